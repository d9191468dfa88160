import { type FileHandle, open } from 'node:fs/promises'
import type { Issue } from '@haspwright/engine'
import { firstJsonMistake } from './json-text.ts'

/** Larger than any design, order or works file; more is refused before it is read. */
export const MAX_JSON_BYTES = 4 * 1024 * 1024

/** What reading a JSON text can come to. */
export type JsonOutcome =
  | { readonly kind: 'json'; readonly value: unknown }
  | { readonly kind: 'not-found' }
  | { readonly kind: 'no-permission' }
  | { readonly kind: 'folder' }
  | { readonly kind: 'empty' }
  | { readonly kind: 'too-large'; readonly maxBytes: number; readonly bytes?: number }
  | { readonly kind: 'not-utf-8' }
  | { readonly kind: 'not-json'; readonly line: number; readonly column: number; readonly problem: string }

/** Parses bytes that should be JSON in UTF-8. */
export function parseJson(bytes: Uint8Array, maxBytes = MAX_JSON_BYTES): JsonOutcome {
  if (bytes.byteLength > maxBytes) return { kind: 'too-large', maxBytes, bytes: bytes.byteLength }
  let text: string
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return { kind: 'not-utf-8' }
  }
  if (text.trim() === '') return { kind: 'empty' }
  const mistake = firstJsonMistake(text)
  return mistake === undefined ? { kind: 'json', value: JSON.parse(text) } : { kind: 'not-json', ...mistake }
}

/**
 * Reads a JSON file that anybody may have put there.
 * @throws only what is neither the file's nor its reader's doing, such as a failing disk
 */
export async function readJsonFile(path: string, maxBytes = MAX_JSON_BYTES): Promise<JsonOutcome> {
  let file: FileHandle
  try {
    file = await open(path, 'r')
  } catch (cause) {
    const outcome = outcomeOfCode((cause as NodeJS.ErrnoException).code)
    if (outcome === undefined) throw cause
    return outcome
  }
  try {
    const about = await file.stat()
    if (about.isDirectory()) return { kind: 'folder' }
    if (about.isFile() && about.size > maxBytes) return { kind: 'too-large', maxBytes, bytes: about.size }
    return parseJson(await readAtMost(file.createReadStream({ autoClose: false }), maxBytes + 1), maxBytes)
  } finally {
    await file.close()
  }
}

function outcomeOfCode(code: string | undefined): JsonOutcome | undefined {
  if (code === 'ENOENT' || code === 'ENOTDIR' || code === 'ENAMETOOLONG') return { kind: 'not-found' }
  if (code === 'EACCES' || code === 'EPERM') return { kind: 'no-permission' }
  return code === 'EISDIR' ? { kind: 'folder' } : undefined
}

/** Reads a stream to its end, or to `maxBytes` if it goes on: a pipe may never end. */
export async function readAtMost(stream: AsyncIterable<Uint8Array | string>, maxBytes: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = []
  let length = 0
  for await (const piece of stream) {
    const bytes = typeof piece === 'string' ? new TextEncoder().encode(piece) : piece
    pieces.push(bytes)
    length += bytes.byteLength
    if (length >= maxBytes) break
  }
  return Buffer.concat(pieces, length).subarray(0, maxBytes)
}

/** The issue that a text that is not usable JSON comes to, in plain words with what to do. */
export function jsonIssue(outcome: Exclude<JsonOutcome, { kind: 'json' }>): Issue {
  switch (outcome.kind) {
    case 'not-found':
      return { path: '', code: 'not-found', message: 'There is no such file. Check its name and folder.' }
    case 'no-permission':
      return { path: '', code: 'not-found', message: 'The file may not be read. Ask for the right to read it.' }
    case 'folder':
      return { path: '', code: 'wrong-type', message: 'This is a folder. Name the file in it.' }
    case 'empty':
      return { path: '', code: 'missing', message: 'There is nothing in it. It must hold one JSON object.' }
    case 'too-large':
      return {
        path: '',
        code: 'too-many',
        message: 'It is too large to be one of our files, and was not read.',
        ...(outcome.bytes === undefined ? {} : { value: `${outcome.bytes} bytes` }),
        allowed: `at most ${outcome.maxBytes} bytes`,
      }
    case 'not-utf-8':
      return { path: '', code: 'bad-format', message: 'It is not text in UTF-8. Save it as UTF-8 and try again.' }
    case 'not-json':
      return {
        path: '',
        code: 'bad-format',
        message: `It is not JSON: line ${outcome.line}, column ${outcome.column}: ${outcome.problem}.`,
      }
  }
}
