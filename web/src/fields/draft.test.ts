import { calculations, Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { draftAt, draftOf, emptyDraft, setAt, valueFrom } from './draft.ts'
import { fieldModel, inputModel } from './field-model.ts'

const deposit = calculations.find(({ id }) => id === 'finish.deposit')

describe('a form made from a schema', () => {
  it('takes label, unit, symbol and range of a field from the schema', () => {
    const model = deposit === undefined ? undefined : inputModel(deposit)
    const field = model?.kind === 'group' ? model.fields.find(({ name }) => name === 'thicknessUm') : undefined
    expect(field).toMatchObject({ kind: 'number', title: 'Mean thickness', unit: 'µm', symbol: 'h', optional: true })
    expect(field?.kind === 'number' && field.range).toBe('0.001 to 1000')
  })

  it('an example of every calculation goes into its form and comes back unchanged', () => {
    for (const calculation of calculations) {
      const model = inputModel(calculation)
      for (const example of calculation.examples)
        expect(valueFrom(model, draftOf(model, example.input)), `${calculation.id}: ${example.title}`).toEqual(
          example.input,
        )
    }
  })

  it('leaves out what was left empty and hands on what is no number, for the engine to report', () => {
    const model = fieldModel(Design)
    const draft = setAt(setAt(emptyDraft(model), ['body', 'widthMm'], '50,5'), ['body', 'thicknessMm'], 'thick')
    const value = valueFrom(model, draft) as { body: Record<string, unknown> }
    expect(value.body['widthMm']).toBe(50.5)
    expect(value.body['thicknessMm']).toBe('thick')
    expect('sawAllowanceMm' in value.body).toBe(false)
  })

  it('changing one place leaves the others the same object', () => {
    const before = emptyDraft(fieldModel(Design))
    const after = setAt(before, ['body', 'widthMm'], '50')
    expect(draftAt(after, ['body', 'widthMm'])).toBe('50')
    expect(draftAt(after, ['shackle'])).toBe(draftAt(before, ['shackle']))
  })
})
