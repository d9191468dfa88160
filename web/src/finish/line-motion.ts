import { formatFixed, formatNumber } from '@haspwright/engine'
import { type CarrierState, clock, isWithin, type LinePicture, SAME_MOMENT_S } from '@haspwright/papers/drawing'

/** The line at one moment of its cycle. */
export interface LineMoment {
  readonly carriers: readonly CarrierState[]
  /** Tanks that hold a load, by their place in the picture. */
  readonly filled: readonly number[]
  readonly words: string
}

/** Where carriers and loads are at a moment. */
export function lineAt(picture: LinePicture, atS: number): LineMoment {
  const { carriers, moves, cycleS, tanks, spans } = picture
  const states = carriers.map(({ name, legs }, carrier) => {
    const leg = legs.find(({ fromS, toS }) => atS >= fromS && atS <= toS) ?? legs.at(-1)
    const move = moves.find((each) => each.carrier === carrier && isWithin(atS, each, cycleS))
    return {
      name,
      placeM: leg === undefined ? 0 : placeOn(leg, atS),
      loaded: move !== undefined,
      lifted: liftedAt(picture, move, atS),
    }
  })
  const filled = tanks.flatMap(({ station }, index) => {
    const loads = spans.filter((span) => span.station === station && atS >= span.fromS && atS < span.toS).length
    const first = tanks.findIndex((tank) => tank.station === station)
    return index - first < loads ? [index] : []
  })
  return { carriers: states, filled, words: `${wordsAt(picture, atS)}${gapWords(picture, states)}` }
}

/** How far apart carriers stand, and what they keep; nothing for one. */
function gapWords({ gapM }: LinePicture, carriers: readonly CarrierState[]): string {
  if (gapM === undefined) return ''
  const apart = carriers.slice(1).map(({ name, placeM }, k) => {
    const left = carriers[k]
    return `${left?.name ?? ''} to ${name} ${formatFixed(placeM - (left?.placeM ?? 0), 1)} m`
  })
  return ` Apart: ${apart.join(', ')}; never under ${formatNumber(gapM)} m.`
}

function placeOn({ fromS, toS, fromM, toM }: LinePicture['carriers'][number]['legs'][number], atS: number): number {
  return toS === fromS ? toM : fromM + ((atS - fromS) / (toS - fromS)) * (toM - fromM)
}

/** How far the hook is up: it rises at the start of a loaded move, and goes down at its end. */
function liftedAt(
  { liftS, lowerS, cycleS }: LinePicture,
  move: LinePicture['moves'][number] | undefined,
  atS: number,
): number {
  if (move === undefined) return 1
  const into = (((atS - move.fromS + SAME_MOMENT_S) % cycleS) + cycleS) % cycleS
  const left = move.toS - move.fromS - into
  if (liftS > 0 && into < liftS) return into / liftS
  return lowerS > 0 && left < lowerS ? Math.max(0, left / lowerS) : 1
}

/** What happens at a moment, one clause for each carrier. */
export function wordsAt({ carriers, moves, names, cycleS }: LinePicture, atS: number): string {
  const doing = carriers.map(({ name }, carrier) => {
    const move = moves.find((each) => each.carrier === carrier && isWithin(atS, each, cycleS))
    if (move !== undefined)
      return `carrier ${name} carries a rack from ${place(names, move.station)} to ${place(names, (move.station + 1) % names.length)}`
    const next = nextMove({ moves: moves.filter((each) => each.carrier === carrier), cycleS }, atS)
    return next === undefined
      ? `carrier ${name} stands by`
      : `carrier ${name} is empty, next to ${place(names, next.station)}`
  })
  const said = doing.join('; ')
  return `${clock(atS)} of ${clock(cycleS)}: ${said}.`
}

/** `6 Nickel`: there are several rinses, so the number stands with the name. */
const place = (names: readonly string[], station: number) => `${station} ${names[station] ?? ''}`.trim()

/** The move that starts next after a moment, over the end of the cycle. */
export function nextMove({ moves, cycleS }: Pick<LinePicture, 'moves' | 'cycleS'>, atS: number) {
  const waits = (fromS: number) => (((fromS - atS - SAME_MOMENT_S) % cycleS) + cycleS) % cycleS
  return [...moves].sort((a, b) => waits(a.fromS) - waits(b.fromS))[0]
}

/** The last move that started before a moment, over the start of the cycle. */
export function lastMove({ moves, cycleS }: Pick<LinePicture, 'moves' | 'cycleS'>, atS: number) {
  const past = (fromS: number) => (((atS - fromS - SAME_MOMENT_S) % cycleS) + cycleS) % cycleS
  return [...moves].sort((a, b) => past(a.fromS) - past(b.fromS))[0]
}
