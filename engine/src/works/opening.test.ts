import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import { answer, answerLong } from '../calculation.ts'
import { differs } from '../mechanism/differs.ts'
import { interchange } from '../mechanism/interchange.ts'
import { read } from '../reading.ts'
import { Design } from './design.ts'
import { differsInput, openingSpec } from './opening.ts'

const reading = read(Design, harbour)
if (!reading.ok) throw new Error('The demo design cannot be read.')
const design = reading.value

describe('the opening model of a design', () => {
  it('gives the count of codes the same own key and the same worst other key as the findings of the works', async () => {
    const counted = await answerLong(differs, differsInput(design))
    if (!counted.ok) throw new Error('refused')
    const { ownKey, worstInterchange, worstDifferences } = counted.output
    const asked = (window: 'narrowest' | 'widest', differences: number[]) => {
      const answered = answer(interchange, { ...openingSpec(design, window), differences })
      if (!answered.ok) throw new Error('refused')
      return answered.output.rocked
    }
    // The middle of the window more or less its tolerance is the end of the window to the last bit or so.
    const own = asked('narrowest', new Array<number>(design.mechanism.discs).fill(0))
    expect(1 - ownKey).toBeCloseTo(1 - own, 12)
    expect(worstInterchange / asked('widest', worstDifferences)).toBeCloseTo(1, 9)
  })
})
