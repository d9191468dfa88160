import { answerLong, type Design, linePlan, lineQuestion, timetable, type Works } from '@haspwright/engine'
import { linePicture } from '@haspwright/papers/drawing'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyard from '../../../demo/designs/ry40.json' with { type: 'json' }
import worksFile from '../../../demo/works.json' with { type: 'json' }
import { ASSUMED_LINE } from './assumed-line.ts'
import { draftOfLine, lineInput } from './line-draft.ts'
import { lastMove, lineAt, nextMove } from './line-motion.ts'
import { lineSentence } from './line-words.ts'
import { lineOfPlan } from './use-line.ts'

const designs = [harbour, railyard] as unknown as readonly Design[] // read and checked by the engine's own tests
const works = worksFile as unknown as Works // likewise

function questionOf(design: Design) {
  const { question, isAssumed } = lineOfPlan(design, works)
  if (!question.ok) throw new Error(question.because)
  expect(isAssumed).toBe(false)
  return question
}

/** The line as its form asks for it, so that what stands in the fields is what is drawn. */
async function pictureOf(design: Design, hoists = 1) {
  const { input: planned, stations } = questionOf(design)
  const result = await answerLong(timetable, lineInput(draftOfLine({ ...planned, hoists })))
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  const { input, output } = result
  return { input, output, picture: linePicture(input, output, stations) }
}

describe('the line as it is drawn and played', () => {
  it.each(designs)('every soak of the demo line ends within its window: $id', async (design) => {
    const { picture } = await pictureOf(design)
    for (const { soakS, minS, maxS } of picture.soaks) {
      expect(soakS).toBeGreaterThanOrEqual(minS - 1e-6)
      expect(soakS).toBeLessThanOrEqual((maxS ?? Number.POSITIVE_INFINITY) + 1e-6)
    }
  })

  it.each(designs)(
    'typed into its form and read back, the line of the plan has the plan’s cycle: $id',
    async (design) => {
      const plan = linePlan(design, works)
      if (!plan.ok) throw new Error(plan.because)
      expect((await pictureOf(design)).output.cycleS).toBeCloseTo(plan.answer.cycleS, 6)
    },
  )

  it('a works without a line gets an assumed one, which is timed and said to be assumed', async () => {
    const { line: _, ...without } = works.plating
    const { question, isAssumed } = lineOfPlan(designs[0] as Design, { plating: without })
    expect(isAssumed).toBe(true)
    expect(question).toEqual(lineQuestion(designs[0] as Design, ASSUMED_LINE))
    const result = question.ok ? await answerLong(timetable, question.input) : question
    expect(result.ok && result.output.proven).toBe(true)
  })

  it('two carriers keep their gap at every moment, and no rack is lost between them', async () => {
    const { picture, input, output } = await pictureOf(designs[0] as Design, 2)
    expect(new Set(output.removals.map(({ hoist }) => hoist)).size).toBe(2)
    for (let k = 0; k < 997; k++) {
      const { carriers, filled } = lineAt(picture, (k / 997) * picture.cycleS)
      const [left, right] = carriers.map(({ placeM }) => placeM)
      expect((right ?? 0) - (left ?? 0)).toBeGreaterThanOrEqual((input.track?.gapM ?? Number.NaN) - 1e-6)
      expect(filled.length + carriers.filter(({ loaded }) => loaded).length).toBe(output.loadsOnLine)
    }
  })

  it('a transfer longer than the design allows falls short in the first sentence, though the timetable keeps what it can', async () => {
    const strict = structuredClone(designs[0] as Design)
    if (strict.coating.nickelToChromiumS === undefined) throw new Error('the demo asks for a limit')
    const limit = strict.coating.nickelToChromiumS.limit
    const sentence = async (transferLimitS: number) => {
      strict.coating.nickelToChromiumS = { limit: transferLimitS, askedBy: 'test' }
      const { input, output } = await pictureOf(strict)
      return lineSentence({ line: input, report: output, remedies: undefined, transferLimitS })
    }
    expect((await sentence(limit)).verdict).toBe('holds')
    expect(await sentence(40)).toMatchObject({ verdict: 'falls-short', detail: '43 s of at most 40 s.' })
  })

  it('no rack is lost or made between the moments of a cycle: as many as the timetable has on the line', async () => {
    const { picture, output } = await pictureOf(designs[0] as Design)
    for (let k = 0; k < 97; k++) {
      const { carriers, filled } = lineAt(picture, (k / 97) * picture.cycleS)
      const racks = filled.length + carriers.filter(({ loaded }) => loaded).length
      // Between unloading and the next rack the station itself counts as holding one.
      expect(racks).toBe(output.loadsOnLine)
    }
  })

  it('the carrier stands over the tank when its move begins, hook down, and over the next when it ends', async () => {
    const { picture } = await pictureOf(designs[0] as Design)
    for (const { station, fromS, toS } of picture.moves) {
      const [begin, end] = [lineAt(picture, fromS % picture.cycleS), lineAt(picture, (toS - 1e-4) % picture.cycleS)]
      expect(begin.carriers[0]?.placeM).toBeCloseTo(picture.soaks[station]?.atM ?? Number.NaN, 6)
      expect(begin.carriers[0]?.lifted).toBeCloseTo(0, 5)
      expect(end.carriers[0]?.placeM).toBeCloseTo(
        picture.soaks[(station + 1) % picture.soaks.length]?.atM ?? Number.NaN,
        3,
      )
    }
  })

  it('next and last step through all moves, round and round', async () => {
    const { picture } = await pictureOf(designs[0] as Design)
    const seen = new Set<number>()
    let atS = 0
    for (let k = 0; k < picture.moves.length; k++) {
      const move = nextMove(picture, atS)
      if (move === undefined) throw new Error('no move')
      seen.add(move.station)
      atS = ((move.fromS % picture.cycleS) + picture.cycleS) % picture.cycleS
      expect(lineAt(picture, atS).words).toContain('carries a rack')
      expect(lastMove(picture, atS + 0.01)?.station).toBe(move.station)
    }
    expect(seen.size).toBe(picture.moves.length)
  })

  it('a figure that cannot be read leaves the moves finite, so that only its own field is wrong', () => {
    const draft = draftOfLine(questionOf(designs[0] as Design).input) as { track: object } // a line has a track
    const input = lineInput({ ...draft, track: { ...draft.track, speedMPerS: 'fast' } } as never) // what a hand may type
    expect((input['loadedMoveS'] as number[]).every(Number.isFinite)).toBe(true)
    expect(JSON.stringify(input)).toContain('fast')
  })
})
