import { calculations } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { appOverEmptyFolder, WORKS_KEY } from '../app.testing.ts'
import { directPlanner } from '../planning/planner.ts'
import { MAX_CALCULATION_BYTES } from './calculations.ts'

const nickel = { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 2, efficiencyPercent: 95, thicknessUm: 6 }

describe('calculations over HTTP', () => {
  it('lists every calculation with its schemas', async () => {
    const { get } = await appOverEmptyFolder()
    const { calculations: listed } = (await (await get('/api/calc')).json()) as { calculations: { id: string }[] }
    expect(listed.map(({ id }) => id)).toEqual(calculations.map(({ id }) => id))
    expect(listed[0]).toMatchObject({ input: { type: 'object' }, output: { type: 'object' } })
  })

  it('gives the result of each calculation for its first published example', async () => {
    const { post } = await appOverEmptyFolder()
    for (const { id, kind, examples } of calculations.filter(({ kind }) => kind === 'short')) {
      const response = await post(`/api/calc/${id}`, examples[0].input)
      expect({ id, kind, status: response.status }).toEqual({ id, kind, status: 200 })
    }
  })

  it('tells notices beside the result', async () => {
    const { post } = await appOverEmptyFolder()
    const result = await (await post('/api/calc/finish.deposit', { ...nickel, thicknessUm: 500 })).json()
    expect(result).toMatchObject({ minutes: expect.any(Number), notices: [expect.stringContaining('500')] })
  })

  it('answers bad input with 422 and every issue at once', async () => {
    const { post } = await appOverEmptyFolder()
    const response = await post('/api/calc/finish.deposit', { ...nickel, areaDm2: 0, metal: 'gold', extra: 1 })
    expect(response.status).toBe(422)
    const { issues } = (await response.json()) as { issues: { path: string }[] }
    expect(issues.map(({ path }) => path).sort()).toEqual(['areaDm2', 'extra', 'metal'])
    expect(issues).toContainEqual(
      expect.objectContaining({ path: 'areaDm2', code: 'out-of-range', value: 0, allowed: expect.any(String) }),
    )
  })

  it.each([
    ['nothing', '', 422, 'nothing in it'],
    ['wrong JSON', '{"metal": nickel}', 422, 'line 1, column 11'],
    ['a list', '[]', 422, 'object'],
    ['more than 1 MB', `"${'x'.repeat(MAX_CALCULATION_BYTES)}"`, 413, 'too large'],
  ])('refuses %s with one issue that says so', async (_, body, status, words) => {
    const { post } = await appOverEmptyFolder()
    const response = await post('/api/calc/finish.deposit', body)
    expect(response.status).toBe(status)
    expect(await response.text()).toContain(words)
  })

  it('refuses a body that does not say it is JSON', async () => {
    const { post } = await appOverEmptyFolder()
    expect((await post('/api/calc/finish.deposit', nickel, { 'content-type': 'text/plain' })).status).toBe(415)
  })

  it('says which calculations there are when there is none of that id', async () => {
    const { post } = await appOverEmptyFolder()
    const response = await post('/api/calc/finish.gild', nickel)
    expect(response.status).toBe(404)
    expect(await response.json()).toMatchObject({
      issues: [{ code: 'not-found', value: 'finish.gild', allowed: expect.stringContaining('finish.deposit') }],
    })
  })

  it('answers a fault with a reference that the log has too, with its cause', async () => {
    const { post, logged } = await appOverEmptyFolder({ planner: failing('a constant is wrong') })
    const response = await post('/api/calc/finish.deposit', nickel)
    expect(response.status).toBe(500)
    const body = (await response.json()) as { fault: { reference: string; message: string } }
    expect(body.fault.reference).toMatch(/^F-[2-9A-Z]{7}$/)
    expect(body.fault.message).toContain('not your fault')
    expect(body.fault.message).not.toContain('constant')
    expect(logged.join('\n')).toContain(body.fault.reference)
    expect(logged.join('\n')).toContain('a constant is wrong')
  })

  it('keeps the words of a fault out of the log where the calculation is a secret', async () => {
    const secret = calculations.find((calculation) => calculation.secret === true)
    if (secret === undefined) return expect(calculations.some(({ id }) => id === 'codes.issue')).toBe(false)
    const { post, logged } = await appOverEmptyFolder({ planner: failing(`cannot use ${WORKS_KEY}`) })
    const response = await post(`/api/calc/${secret.id}`, { keyHex: WORKS_KEY })
    expect(response.status).toBe(500)
    expect(logged.join('\n')).toContain('withheld')
    expect(logged.join('\n') + (await response.text())).not.toContain(WORKS_KEY)
  })
})

const failing = (words: string) => ({ ...directPlanner, calculate: () => Promise.reject(new Error(words)) })

describe('sources over HTTP', () => {
  it('names every source once, with what rests on it', async () => {
    const { get } = await appOverEmptyFolder()
    const { sources } = (await (await get('/api/sources')).json()) as {
      sources: { id: string; computes: string[]; checks: string[] }[]
    }
    expect(new Set(sources.map(({ id }) => id)).size).toBe(sources.length)
    for (const { id, computes, checks } of sources) expect([id, ...computes, ...checks].length).toBeGreaterThan(1)
    expect(new Set(sources.flatMap(({ computes }) => computes))).toEqual(new Set(calculations.map(({ id }) => id)))
  })
})
