import { answerAny, calculationById, type Highs, provideHighs } from '@haspwright/engine'
import highsProgram from 'highs/runtime?url'
import type { CalculationAnswer, CalculationMessage, CalculationQuestion } from './calculation-messages.ts'

/** Answers calculations away from the page, so that it never stands still. Cancelling ends the whole worker. */

provideHighs(async () => {
  const { default: load } = await import('highs')
  // The package declares the module by its own, wider type; the engine names the part it uses.
  return (await load({ locateFile: () => highsProgram })) as unknown as Highs
})

const say = (message: CalculationMessage) => postMessage(message)

addEventListener('message', ({ data }: MessageEvent<CalculationQuestion>) => {
  const { number } = data
  answerQuestion(data).then(
    (answer) => say({ number, kind: 'answer', answer }),
    (fault: unknown) => say({ number, kind: 'fault', message: fault instanceof Error ? fault.message : 'unknown' }),
  )
})

async function answerQuestion({ number, id, input }: CalculationQuestion): Promise<CalculationAnswer> {
  const calculation = calculationById(id)
  if (calculation === undefined) throw new Error(`There is no calculation ${id}.`)
  const progress = (share: number, doing: string) => say({ number, kind: 'progress', share, doing })
  const result = await answerAny(calculation, input, { progress, clock: () => performance.now() })
  if (!result.ok) return result
  const { output, notices } = result
  const { working } = calculation
  return {
    ok: true,
    output,
    notices,
    working: typeof working === 'string' ? working : working({ input: result.input, output }),
  }
}
