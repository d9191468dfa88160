import { describe, expect, it } from 'vitest'
import { appOverEmptyFolder, appWithDemo, harbourDesign } from '../app.testing.ts'
import type { CodeSpaceSummary } from '../wire.ts'

const spacesOf = async (response: Response) => ((await response.json()) as { spaces: CodeSpaceSummary[] }).spaces

describe('codes over HTTP', () => {
  it('tells for every design how many codes there are, how many are given out, and to which orders', async () => {
    const { get } = await appWithDemo()
    const spaces = await spacesOf(await get('/api/codes'))
    expect(spaces.map(({ design }) => design)).toEqual(['HB50', 'RY40'])
    for (const { total, usable, givenOut, orders, values, discs } of spaces) {
      expect(total).toBe(`${values ** discs}`)
      expect(BigInt(usable ?? '0')).toBeLessThanOrEqual(BigInt(total))
      expect(BigInt(givenOut)).toBeGreaterThan(0n)
      expect(orders.length).toBeGreaterThan(0)
    }
  })

  it('tells counts alone: nothing in it is a code, a blind code or a list of numbers', async () => {
    const { get, register } = await appWithDemo()
    const text = await (await get('/api/codes')).text()
    const blind = await register.codes.blindCodeOf({ order: '26-041', line: 'A', number: 1 })
    expect(blind).toBeDefined()
    expect(text).not.toContain(blind)
    for (const space of await spacesOf(await get('/api/codes')))
      expect(Object.keys(space).sort()).toEqual(
        ['design', 'discs', 'givenOut', 'orders', 'space', 'title', 'total', 'usable', 'values'].sort(),
      )
  })

  it('a design nobody ordered has given out none, and one with the same discs, values and rules shares its space', async () => {
    const { get, put } = await appWithDemo()
    await put('/api/designs/HB51', { ...harbourDesign, id: 'HB51' }, { 'if-none-match': '*' })
    const other = { ...harbourDesign, id: 'HB52', mechanism: { ...harbourDesign.mechanism, rules: { maxStep: 4 } } }
    expect((await put('/api/designs/HB52', other, { 'if-none-match': '*' })).status).toBe(200)
    const spaces = new Map((await spacesOf(await get('/api/codes'))).map((space) => [space.design, space]))
    expect(spaces.get('HB51')?.space).toBe(spaces.get('HB50')?.space)
    expect(spaces.get('HB51')?.givenOut).toBe(spaces.get('HB50')?.givenOut)
    expect(spaces.get('HB52')).toMatchObject({ givenOut: '0', orders: [] })
  })

  it('an empty folder has no code spaces', async () => {
    const { get } = appOverEmptyFolder()
    expect(await spacesOf(await get('/api/codes'))).toEqual([])
  })
})
