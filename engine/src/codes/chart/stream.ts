import { CODE_RULES, type Code, type CodeShape } from '../../numeric/code-rules.ts'
import { type Chance, shuffled } from './chance.ts'
import { type CodeBox, type CodeWalk, codeBox } from './draw.ts'
import { bitCount, valuesOf } from './order.ts'
import { distanceCode } from './words.ts'

/** What a group leaves to the keys right below it. */
export interface OwnedDiscs {
  readonly shape: CodeShape
  /** The code they keep on all other discs; absent at the top, where the other discs are free as well. */
  readonly base: Code | undefined
  /** Discs on which they differ. */
  readonly owned: readonly number[]
  /** Values allowed on each disc, as bits. */
  readonly masks: readonly number[]
  /** Given where a real key has the base code: keys below leave its value on just so many of the owned discs. */
  readonly weight: number | undefined
  /** Discs on which any two are to differ. */
  readonly distance: number
  /** Told what the codes cost, in words of bit rows. */
  readonly spend: (work: number) => void
}

/** Codes one after another: structured first, then drawn, then every one that is left. */
export interface CodeStream {
  next(): Code | undefined
  /** Says that the last code was taken: a part of the stream goes on as long as its codes are. */
  taken(): void
}

/** Codes passed over in a row before the stream goes on to its next part. */
const MOST_CODED_PASSED = 400
const MOST_DRAWN_PASSED = 300
/** Values tried in a walk before a box counts as empty. */
const MOST_WALKED = 1_000_000
/** Choices of the discs that keep the base's value that are gone through. */
const MOST_CHOICES = 200
/** What it costs to make a structured code, to draw one, and to try a value in a walk, in words of bit rows. */
const COST = { coded: 100, drawn: 400, walked: 2 }

/**
 * Codes for the keys of one level.
 *
 * Structured ones, the words of {@link distanceCode} on the owned discs, keep their distance by construction; values are
 * relabelled disc by disc and words taken in an order drawn by chance, so that nobody can guess the layout. Then codes drawn
 * by chance, then all in order: of these the taker must test the distance.
 */
export function codeStream(discs: OwnedDiscs, chance: Chance): CodeStream {
  const { shape } = discs
  const coded = codedPart(discs, chance)
  const boxes = boxesOf(discs, chance)
  let drawing = boxes.length > 0
  let walking = 0
  let walk: CodeWalk | undefined
  let passed = 0
  return {
    taken() {
      passed = 0
    },
    next() {
      passed++
      for (; passed <= MOST_CODED_PASSED && !coded.ended; passed++) {
        discs.spend(COST.coded)
        const code = coded.next()
        if (code !== undefined) return code
      }
      if (!coded.ended) {
        coded.ended = true
        passed = 0
      }
      for (; drawing && passed <= MOST_DRAWN_PASSED; passed++) {
        discs.spend(COST.drawn)
        const code = boxes[chance(boxes.length)]?.().draw(chance)
        if (code !== undefined) return code
      }
      drawing = false
      for (; walking < boxes.length; walking++) {
        walk ??= boxes[walking]?.().walk(chance)
        const code = walk?.next(MOST_WALKED)
        discs.spend(COST.walked * (code === undefined ? MOST_WALKED : shape.discs))
        if (code !== undefined) return code
        walk = undefined
      }
      return undefined
    },
  }
}

interface CodedPart {
  /** The next word as a code, or `undefined` where the rules forbid it. */
  next(): Code | undefined
  ended: boolean
}

function codedPart(discs: OwnedDiscs, chance: Chance): CodedPart {
  const { shape, base, owned, masks, weight, distance } = discs
  const letters = owned.map((disc) => shuffled(valuesOf(ownMask(discs, disc)), chance))
  const words =
    weight !== undefined && weight < owned.length
      ? undefined
      : distanceCode({
          length: owned.length,
          letters: Math.min(shape.values, ...letters.map(({ length }) => length)),
          distance,
        })
  if (words === undefined || owned.length === 0) return { next: () => undefined, ended: true }
  const { size } = words
  const stride = strideOf(size, chance)
  let at = chance(size)
  let n = 0
  const others = masks.some((mask, disc) => !owned.includes(disc) && bitCount(mask) !== 1)
  return {
    ended: false,
    next() {
      const code = base === undefined ? masks.map((mask) => 31 - Math.clz32(mask)) : [...base]
      for (const [place, letter] of words.word(at).entries()) code[owned[place] ?? 0] = letters[place]?.[letter] ?? 0
      at = (at + stride) % size
      n++
      this.ended = n >= size
      if (base === undefined && others)
        return codeBox(
          shape,
          masks.map((mask, disc) => (owned.includes(disc) ? 1 << (code[disc] ?? 0) : mask)),
        ).draw(chance)
      return CODE_RULES.every((rule) => rule.refusal(code, shape) === undefined) ? code : undefined
    },
  }
}

/** Values of an owned disc: all allowed, without the base's where a real key has it. */
function ownMask({ masks, base, weight }: OwnedDiscs, disc: number): number {
  const mask = masks[disc] ?? 0
  return weight === undefined ? mask : mask & ~(1 << (base?.[disc] ?? 0))
}

/** A step through all numbers below the size that comes back to its start only after all of them. */
function strideOf(size: number, chance: Chance): number {
  const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b))
  for (let tries = 0; tries < 100; tries++) {
    const stride = 1 + chance(Math.max(1, size - 1))
    if (divisor(stride, size) === 1) return stride
  }
  return 1
}

/** The boxes of codes of the level: one, or one for every choice of the discs that keep the base's value. */
function boxesOf(discs: OwnedDiscs, chance: Chance): (() => CodeBox)[] {
  const { shape, base, owned, masks, weight } = discs
  const kept = weight === undefined ? 0 : owned.length - weight
  return choicesOf(shuffled(owned, chance), { size: kept, most: MOST_CHOICES }).map((choice) => {
    let box: CodeBox | undefined
    return () => {
      box ??= codeBox(
        shape,
        masks.map((mask, disc) => {
          const own = base?.[disc]
          if (own === undefined) return mask
          return owned.includes(disc) && !choice.includes(disc) ? ownMask(discs, disc) : 1 << own
        }),
      )
      return box
    }
  })
}

/** The choices of so many of some things, the first `most` of them. */
function choicesOf(things: readonly number[], { size, most }: { size: number; most: number }): number[][] {
  if (size === 0) return [[]]
  const choices: number[][] = []
  for (const [i, thing] of things.entries()) {
    if (choices.length >= most) break
    for (const rest of choicesOf(things.slice(i + 1), { size: size - 1, most: most - choices.length }))
      choices.push([thing, ...rest])
  }
  return choices
}
