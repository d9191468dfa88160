import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { temporaryFolder } from './data-folder.testing.ts'
import { jsonIssue, MAX_JSON_BYTES, readJsonFile } from './read-json.ts'

function fileWith(content: string | Uint8Array): string {
  const path = join(temporaryFolder(), 'file.json')
  writeFileSync(path, content)
  return path
}

describe('reading a JSON file that anybody may have put there', () => {
  it('gives the value, with or without a byte order mark', async () => {
    expect(await readJsonFile(fileWith('{"a": [1, "µ"]}'))).toEqual({ kind: 'json', value: { a: [1, 'µ'] } })
    expect(await readJsonFile(fileWith('\uFEFF{}'))).toEqual({ kind: 'json', value: {} })
  })

  it('says that there is none, or that it is a folder', async () => {
    const folder = temporaryFolder()
    expect(await readJsonFile(join(folder, 'none.json'))).toEqual({ kind: 'not-found' })
    expect(await readJsonFile(join(folder, 'x'.repeat(5000)))).toEqual({ kind: 'not-found' })
    mkdirSync(join(folder, 'sub'))
    expect(await readJsonFile(join(folder, 'sub'))).toEqual({ kind: 'folder' })
  })

  it.each(['', '   \n\t '])('says that %j is empty', async (content) => {
    expect(await readJsonFile(fileWith(content))).toEqual({ kind: 'empty' })
  })

  it('refuses 5 MB of garbage unread, and takes what is just small enough', async () => {
    expect(await readJsonFile(fileWith(new Uint8Array(5e6).fill(0x7b)))).toEqual({
      kind: 'too-large',
      maxBytes: MAX_JSON_BYTES,
      bytes: 5e6,
    })
    const text = (length: number) => `"${'a'.repeat(length - 2)}"`
    expect((await readJsonFile(fileWith(text(MAX_JSON_BYTES)))).kind).toBe('json')
    expect((await readJsonFile(fileWith(text(MAX_JSON_BYTES + 1)))).kind).toBe('too-large')
  })

  it('tells text in another encoding from JSON', async () => {
    expect(await readJsonFile(fileWith(Buffer.from('{"name": "Kårsta"}', 'latin1')))).toEqual({ kind: 'not-utf-8' })
    expect(await readJsonFile(fileWith(Buffer.from('\uFEFF{}', 'utf16le')))).toEqual({ kind: 'not-utf-8' })
  })

  it('says where it stops being JSON', async () => {
    const outcome = await readJsonFile(fileWith('{\n  "id": "A",\n  "due" "2026-01-01"\n}'))
    expect(outcome).toMatchObject({ kind: 'not-json', line: 3, column: 9 })
    if (outcome.kind !== 'json') expect(jsonIssue(outcome).message).toContain('line 3, column 9')
  })

  it.skipIf(process.platform === 'win32')('stops reading a device that never ends', async () => {
    expect(await readJsonFile('/dev/zero', 1000)).toMatchObject({ kind: 'too-large', maxBytes: 1000 })
  })
})
