import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoFile, haspwright, issuesOf, temporaryFolder } from './command-line.testing.ts'

const RAIL_YARD = demoFile('designs/ry40.json')

describe('haspwright export', () => {
  it('writes the drawings and measures of a design, and prints one JSON object and nothing else', async () => {
    const out = join(temporaryFolder(), 'out')
    const ended = await haspwright(['export', RAIL_YARD, '--out', out, '--only', 'dxf', '--json'], {
      data: temporaryFolder(),
    })
    expect(ended.status).toBe(0)
    const { design, files } = JSON.parse(ended.out) as { design: string; files: { path: string; bytes: number }[] }
    expect(design).toBe('RY40')
    expect(files.map(({ path }) => path)).toContain('dxf/RY40-body.dxf')
    for (const { path, bytes } of files) expect(readFileSync(join(out, path)).byteLength).toBe(bytes)
    expect(JSON.parse(readFileSync(join(out, 'RY40-solids.json'), 'utf8'))).toMatchObject({
      interference: { interferences: [] },
      rack: null,
    })
    expect(existsSync(join(out, 'step'))).toBe(false)
  }, 180_000)

  it('refuses an unknown design and an unknown kind, and writes nothing', async () => {
    const out = join(temporaryFolder(), 'out')
    const kind = await haspwright(['export', RAIL_YARD, '--out', out, '--only', 'dxf,stl'])
    expect(kind.status).toBe(2)
    expect(issuesOf(kind)).toMatchObject([{ path: '--only', value: 'stl' }])
    const unknown = await haspwright(['export', 'HB99', '--out', out])
    expect(unknown.status).toBe(2)
    expect(issuesOf(unknown)).toMatchObject([{ path: 'HB99', code: 'not-found' }])
    expect(existsSync(out)).toBe(false)
  })
})
