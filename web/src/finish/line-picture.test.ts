import { answerLong, type Design, timetable } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyard from '../../../demo/designs/ry40.json' with { type: 'json' }
import { draftOfLine, lineInput, tanksOf } from './line-draft.ts'
import { lastMove, lineAt, nextMove } from './line-motion.ts'
import { linePicture } from './line-picture.ts'
import { recipeOf } from './line-recipe.ts'

const designs = [harbour, railyard] as unknown as readonly Design[]

async function pictureOf(design: Design) {
  const recipe = recipeOf(design)
  if (!recipe.ok) throw new Error(recipe.because)
  const limit = recipe.transfer
  const draft = draftOfLine(
    recipe.steps,
    limit === undefined ? undefined : { fromTank: limit.fromTank, toTank: limit.toTank, maxS: limit.maxS },
  )
  const result = await answerLong(timetable, lineInput(draft))
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  const { input, output } = result
  return { recipe, input, output, picture: linePicture(input, output, tanksOf(input, recipe.steps)) }
}

describe('the line as it is drawn and played', () => {
  it.each(designs)('every soak of the demo line ends within its window: $id', async (design) => {
    const { picture } = await pictureOf(design)
    for (const { soakS, minS, maxS } of picture.soaks) {
      expect(soakS).toBeGreaterThanOrEqual(minS - 1e-6)
      expect(soakS).toBeLessThanOrEqual((maxS ?? Number.POSITIVE_INFINITY) + 1e-6)
    }
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
    const recipe = recipeOf(designs[0] as Design)
    if (!recipe.ok) throw new Error(recipe.because)
    const draft = draftOfLine(recipe.steps, undefined) as { track: object }
    const input = lineInput({ ...draft, track: { ...draft.track, speedMPerS: 'fast' } } as never) // what a hand may type
    expect((input['loadedMoveS'] as number[]).every(Number.isFinite)).toBe(true)
    expect(JSON.stringify(input)).toContain('fast')
  })
})
