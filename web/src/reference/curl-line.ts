import type { ApiRoute, Content } from './routes-by-subject.ts'

/** Stands where the token of a service account comes in. */
export const PLACEHOLDER_TOKEN = 'hasp_YOUR_TOKEN'

/**
 * The route as a line for a shell. A token stands in it where one reaches the route.
 * @returns `undefined` for what a person does on the pages alone: no program gets through with a line of its own
 */
export function curlLine(route: ApiRoute, { base, body }: { base: string; body?: Content }): string | undefined {
  if (route.access.kind === 'people') return undefined
  const words = [
    ['curl', ...(route.method === 'GET' ? [] : ['-X', route.method]), quoted(`${base}${addressOf(route)}`)],
    ...(route.access.kind === 'people-and-tokens'
      ? [['-H', quoted(`Authorization: Bearer ${PLACEHOLDER_TOKEN}`)]]
      : []),
    ...(body === undefined
      ? []
      : [
          ['-H', quoted(`Content-Type: ${body.mediaType}`)],
          ['--data-binary', quoted(bodyText(body))],
        ]),
  ]
  return words.map((line) => line.join(' ')).join(' \\\n  ')
}

/** Its path with the examples of the document, and the questions that must be asked. */
function addressOf({ path, parameters }: ApiRoute): string {
  const filled = path.replace(/\{([^}]+)\}/g, (_, name: string) => {
    const example = parameters.find((parameter) => parameter.in === 'path' && parameter.name === name)?.example
    return example ?? name.toUpperCase()
  })
  const asked = parameters
    .filter((parameter) => parameter.in === 'query' && parameter.required === true)
    .map(({ name, schema }) => `${name}=${encodeURIComponent(String(schema.enum?.[0] ?? name.toUpperCase()))}`)
  return asked.length === 0 ? filled : `${filled}?${asked.join('&')}`
}

/** As it is sent: text as it stands, anything else as JSON. */
export function bodyText({ example }: Content): string {
  return typeof example === 'string' ? example.trimEnd() : jsonText(example ?? {})
}

/** JSON that a person reads: short groups and lists on one line. */
export function jsonText(value: unknown, indent = ''): string {
  const onOneLine = JSON.stringify(value) ?? ''
  if (value === null || typeof value !== 'object' || onOneLine.length <= LINE) return spaced(value)
  const inner = `${indent}  `
  const rows = Array.isArray(value)
    ? value.map((each) => `${inner}${jsonText(each, inner)}`)
    : Object.entries(value).map(([key, each]) => `${inner}${JSON.stringify(key)}: ${jsonText(each, inner)}`)
  const [open, close] = Array.isArray(value) ? '[]' : '{}'
  return `${open}\n${rows.join(',\n')}\n${indent}${close}`
}
const LINE = 60

function spaced(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(spaced).join(', ')}]`
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? ''
  const entries = Object.entries(value)
  if (entries.length === 0) return '{}'
  return `{ ${entries.map(([key, each]) => `${JSON.stringify(key)}: ${spaced(each)}`).join(', ')} }`
}

/** For a POSIX shell, which ends a quoted word at the next quote. */
const quoted = (text: string) => `'${text.replaceAll("'", `'\\''`)}'`
