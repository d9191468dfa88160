import { answerAny, calculations } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { formula } from './formula.ts'
import { typesetter } from './typesetter.ts'

const template = '#for f in data { formula(f) }'

/** Every formula that a sheet may print: equations, and workings of the examples. */
async function formulasOf(calculation: (typeof calculations)[number]): Promise<string[]> {
  const { equation, examples, working } = calculation
  const found = equation === undefined ? [] : [equation]
  if (typeof working === 'string') return found
  for (const { input } of examples) {
    const answered = await answerAny(calculation, input)
    if (answered.ok) for (const step of working(answered)) found.push(step.formula, step.filled)
  }
  return found
}

describe('formulas of the calculations', () => {
  it.each(calculations.map((calculation) => [calculation.id, calculation] as const))(
    '%s is set as mathematics',
    async (_, calculation) => {
      const setter = await typesetter()
      for (const tex of await formulasOf(calculation)) {
        const made = formula(tex)
        expect(made.math, tex).not.toBeNull()
        expect(setter.sets(template, [made]), `${tex} → ${made.math}`).toBe(true)
      }
    },
  )
  it('that do not convert, or convert to something unknown, are printed as TeX', async () => {
    const setter = await typesetter()
    expect(formula('a # b').math).toBeNull()
    const odd = formula(String.raw`\unknownmacro{x}`)
    expect(setter.sets(template, [odd])).toBe(false)
    expect(setter.pdf(template, [odd]).length).toBeGreaterThan(1000)
  })
})
