import fc from 'fast-check'

/** What somebody may send to whom nothing is sacred, made from what the OpenAPI document says is right. */

export type Json = Record<string, unknown>

/** In every text that is sent where secrets are: it must not come back, and must not stand in the log. */
export const MARK = 'hush-5ecret'

const deep = (open: string, close: string, depth: number) => `${open.repeat(depth)}${close.repeat(depth)}`

/** Texts that programs trip over. */
const awkwardText = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '\u0000',
    `a\u0000${MARK}`,
    '\ud800', // half of a pair
    '\u202egnihsup',
    'ﬃ\u0301\u{1f512}',
    '../../../../etc/passwd',
    "'; DROP TABLE codes; --",
    '<script>{{7*7}}',
    '__proto__',
    'constructor',
    '-0',
    '1e400',
    'NaN',
    '٣',
    '9'.repeat(400),
    'x'.repeat(20_000),
  ),
  fc.string({ unit: 'binary', maxLength: 40 }),
)
const awkwardNumber = fc.oneof(
  fc.constantFrom(-1, 0, -0, 0.5, 2 ** 31, 2 ** 53, -(2 ** 63), 1e21, 1e308, -1e308, 5e-324),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
)
const awkward: fc.Arbitrary<unknown> = fc.oneof(
  awkwardText,
  awkwardNumber,
  fc.constantFrom<unknown>(null, true, false, [], {}, [[[[]]]], Array(3000).fill(0)),
  fc.constant(JSON.parse(`{"__proto__":{"admin":true},"constructor":{"prototype":{}},"extra":"${MARK}"}`)),
  fc.constant(JSON.parse(deep('[', ']', 60))),
)

/** Bytes that are no JSON at all, or JSON of the wrong kind. */
export const awkwardBytes: fc.Arbitrary<Uint8Array> = fc.oneof(
  fc
    .constantFrom(
      '',
      ' ',
      'null',
      '[]',
      '7',
      '"text"',
      '{',
      '{"half":',
      '{"a":1,"a":2}',
      '\ufeff{}',
      'NaN',
      '{"n":1e999}',
      "{'a':1}",
      deep('[', ']', 50_000),
      '{"a":'.repeat(5000),
    )
    .map((text) => Buffer.from(text)),
  fc
    .constantFrom([0xff, 0xfe, 0x7b, 0x7d], [0x7b, 0x22, 0xc3, 0x28, 0x22, 0x3a, 0x31, 0x7d])
    .map((bytes) => Uint8Array.from(bytes)),
  fc.uint8Array({ maxLength: 60 }),
)

/** What stands in an address in place of a number or a path; already written as in an address. */
export const awkwardSegment: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom('%00', 'a%00b', '%', '%zz', '%ff%fe', '%ed%a0%80', '..%2f..%2fetc%2fpasswd', '%2e%2e', '%20'),
  awkwardText
    .filter((text) => text !== '' && !/\p{Surrogate}/u.test(text))
    .map((text) => encodeURIComponent(text.slice(0, 3000))),
)

/** A value as the schema asks for it, as far as types, lists of choices and lengths say. */
export function fitting(schema: Json, schemas: Json): fc.Arbitrary<unknown> {
  const { $ref, anyOf, enum: choices, type, properties, items, required, minLength, minimum, minItems } = schema
  if (typeof $ref === 'string') return fitting(schemas[$ref.split('/').at(-1) ?? ''] as Json, schemas)
  if ('const' in schema) return fc.constant(schema['const'])
  if (Array.isArray(choices)) return fc.constantFrom(...(choices as unknown[]))
  if (Array.isArray(anyOf)) return fc.oneof(...(anyOf as Json[]).map((one) => fitting(one, schemas)))
  if (type === 'object' || properties !== undefined) {
    const fields = Object.entries((properties ?? {}) as Record<string, Json>)
    const needed = (required ?? []) as string[]
    return fc.record(Object.fromEntries(fields.map(([name, field]) => [name, fitting(field, schemas)])), {
      requiredKeys: needed as never[],
    })
  }
  if (type === 'array')
    return fc.array(fitting(items as Json, schemas), { minLength: Number(minItems ?? 0), maxLength: 3 })
  if (type === 'integer' || type === 'number') return fc.integer({ min: Math.max(0, Number(minimum ?? 0)), max: 40 })
  if (type === 'boolean') return fc.boolean()
  return fc.constant(`${MARK}@works.example`.padEnd(Number(minLength ?? 0), 'x'))
}

/** The same with one to three places spoilt: another value, one left out, one too many. */
export function spoilt(value: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  const harm = fc.record({ place: fc.nat(), deed: fc.constantFrom('replace', 'drop', 'add'), by: awkward })
  return fc
    .tuple(value, fc.array(harm, { minLength: 1, maxLength: 3 }))
    .map(([whole, harms]) => harms.reduce((body, { place, deed, by }) => harmed(body, { place, deed, by }), whole))
}

function harmed(body: unknown, { place, deed, by }: { place: number; deed: string; by: unknown }): unknown {
  const copy = structuredClone(body)
  const places = placesIn(copy)
  const chosen = places[place % (places.length || 1)]
  if (chosen === undefined) return by
  const { holder, key } = chosen
  if (deed === 'replace') Object.defineProperty(holder, key, { value: by, enumerable: true, configurable: true })
  else if (deed === 'add' && !Array.isArray(holder)) holder['extra'] = by
  else if (Array.isArray(holder)) holder.push(by)
  else delete holder[key]
  return copy
}

/** The same with the character that PostgreSQL keeps in no text, at the end of one of its texts. */
export function withNul(value: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  return fc.tuple(value, fc.nat()).map(([whole, place]) => {
    const copy = structuredClone(whole)
    const texts = placesIn(copy).filter(({ holder, key }) => typeof holder[key] === 'string')
    const chosen = texts[place % (texts.length || 1)]
    if (chosen !== undefined) chosen.holder[chosen.key] += '\0'
    return copy
  })
}

type Holder = Record<string, unknown>

function placesIn(value: unknown, found: { holder: Holder; key: string }[] = []) {
  if (value !== null && typeof value === 'object')
    for (const key of Object.keys(value)) {
      found.push({ holder: value as Holder, key })
      placesIn((value as Holder)[key], found)
    }
  return found
}
