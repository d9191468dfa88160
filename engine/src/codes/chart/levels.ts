import type { Code } from '../../numeric/code-rules.ts'
import type { ChartBuild } from './build.ts'
import { alphabet, discsNeeded, levelDiscs, spareKeyDiscs } from './capacity.ts'
import { type Chance, shuffled } from './chance.ts'
import { type ChartGroup, keysIn } from './hierarchy.ts'
import { valuesOf } from './order.ts'
import { type CodeStream, codeStream } from './stream.ts'
import { mostUnderMaster } from './words.ts'

/** Other codes tried for a group when what is below it did not fit. */
const OTHER_CODES = 12
/** Choices of discs tried for each number of them. */
const DISC_CHOICES = 3

/** What stands around a group when its keys are placed. */
interface Place {
  readonly base: Code | undefined
  /** Discs that no level above owns, in order. */
  readonly free: readonly number[]
  /** A key of this chart has the base code, or one above did: its value is a gate in every lock below. */
  readonly real: boolean
  readonly masks: readonly number[]
  readonly depth: number
}

/**
 * Places a chart level by level: each group owns some discs, on which the keys right below differ from its key and from one
 * another in at least the discs asked for; on all others they agree with it. So every disc of a lock has one gate or two
 * however many levels there are, and a key of another group misses on the discs of the level where the two part.
 *
 * Every code is tested against the whole chart as it stands before it is taken, rules and existing keys and locks included.
 *
 * @param work budget, in words of bit rows
 * @returns the group below which no codes were found, or `undefined` when all are placed
 */
export function placeLevels(
  build: ChartBuild,
  { root, chance, work }: { root: ChartGroup; chance: Chance; work: number },
): ChartGroup | undefined {
  const placing = new LevelPlacing(build, { chance, end: build.work + work })
  return placing.placeAll(root)
}

class LevelPlacing {
  readonly #build: ChartBuild
  readonly #chance: Chance
  readonly #end: number
  /** How often codes ran out for the keys right below a group. */
  readonly #ranOut = new Map<ChartGroup, number>()
  readonly #spend = (work: number) => this.#build.spend(work)
  /** Discs that the last group of each depth took: the next takes the same, so that fewer are owned in all. */
  readonly #usual: (readonly number[])[] = []

  constructor(build: ChartBuild, { chance, end }: { chance: Chance; end: number }) {
    this.#build = build
    this.#chance = chance
    this.#end = end
  }

  get #demands() {
    const { shape, minDifferingDiscs, maxGatesPerDisc } = this.#build.demands
    return { values: shape.values, distance: minDifferingDiscs, gates: maxGatesPerDisc }
  }

  /** The trees of the forest: those with levels first, parted on discs of their own; then single groups wherever they fit. */
  placeAll(root: ChartGroup): ChartGroup | undefined {
    const { shape } = this.#build.demands
    const fixed = discsOf(shape.discs).map((disc) => shape.rules.fixed?.[String(disc)])
    const free = discsOf(shape.discs).filter((disc) => fixed[disc] === undefined)
    const masks = fixed.map((value) => (value === undefined ? 2 ** shape.values - 1 : 1 << value))
    const place: Place = { base: undefined, free, real: false, masks, depth: 0 }
    const trees = root.children.filter(({ children, keys }) => children.length > 0 || keys.length > 1)
    const single = root.children.filter((child) => !trees.includes(child))
    const placed =
      this.#placeLevel({ ...root, children: trees }, place) &&
      this.#fill({ ...root, children: single }, { place, owned: free, weight: undefined })
    return placed ? undefined : (this.#tightest() ?? root)
  }

  #tightest(): ChartGroup | undefined {
    return [...this.#ranOut].sort(([, a], [, b]) => b - a)[0]?.[0]
  }

  /** Everything below a group whose code is set. */
  #placeBelow(group: ChartGroup, place: Place): boolean {
    const masks = this.#sharedMasks(group, place)
    const free = this.#placeSpareKeys(group, { ...place, masks })
    return free !== undefined && this.#placeLevel(group, { ...place, free, masks })
  }

  /** The groups right below, on growing numbers of discs until they fit; then, on most discs, leaving the base on fewer. */
  #placeLevel(group: ChartGroup, place: Place): boolean {
    const { children } = group
    if (children.length === 0) return true
    const level = { ...this.#demands, values: alphabet(group.shared.length > 0, this.#demands), real: place.real }
    const below = Math.max(0, ...children.map((child) => discsNeeded(child, this.#demands)))
    const most = place.free.length - (Number.isFinite(below) ? below : 0)
    const least = levelDiscs(children.length, level)
    // Room for as many again, where there is room for it.
    const wished = Math.min(most, least === 0 ? 0 : levelDiscs(2 * children.length, level))
    for (const size of [...span(wished, most), ...span(least, wished - 1).reverse()])
      for (let choice = 0; choice < DISC_CHOICES; choice++) {
        const owned = this.#chooseDiscs(group, { place, size, usual: choice === 0 })
        if (owned === undefined) break
        const weight = place.real ? this.#bestWeight(children.length, { ...level, discs: owned.length }) : undefined
        if (this.#fill(group, { place, owned, weight })) {
          this.#usual[place.depth] = owned
          return true
        }
        if (size === place.free.length) break
      }
    const owned = place.real ? this.#chooseDiscs(group, { place, size: most, usual: false }) : undefined
    for (let weight = most - 1; owned !== undefined && weight >= level.distance; weight--)
      if (this.#fill(group, { place, owned, weight })) return true
    return false
  }

  /** On how many of its discs a level leaves the base: all, unless only fewer make room for that many. */
  #bestWeight(count: number, { discs, values, distance }: { discs: number; values: number; distance: number }): number {
    const full = distance > 1 || (values - 1) ** discs >= count
    return full ? discs : mostUnderMaster({ length: discs, values }).weight
  }

  /** Gives every group of one level its code, and places what is below it; takes all back when one cannot be. */
  #fill(
    group: ChartGroup,
    { place, owned, weight }: { place: Place; owned: readonly number[]; weight: number | undefined },
  ): boolean {
    const { shape, minDifferingDiscs: distance } = this.#build.demands
    if (this.#build.isOver(this.#end)) return false
    const { base, free, masks } = place
    const stream = codeStream({ shape, base, owned, masks, weight, distance, spend: this.#spend }, this.#chance)
    const rest = free.filter((disc) => !owned.includes(disc))
    const fit: Fit = { stream, rest, place, owned, words: [] }
    const harderFirst = [...group.children].sort((a, b) => b.children.length - a.children.length)
    for (const child of harderFirst)
      if (!this.#placeGroup(child, fit)) {
        this.#ranOut.set(group, (this.#ranOut.get(group) ?? 0) + 1)
        for (const key of harderFirst.flatMap(keysIn)) if (!this.#build.isMade(key)) this.#build.remove(key)
        return false
      }
    return true
  }

  #placeGroup(group: ChartGroup, { stream, rest, place, owned, words }: Fit): boolean {
    const build = this.#build
    const made = group.keys.find((key) => build.isMade(key))
    const madeCode = made === undefined ? undefined : build.codes[made]
    const inside = { free: rest, masks: place.masks, real: place.real || group.keys.length > 0, depth: place.depth + 1 }
    if (madeCode !== undefined)
      return this.#placeBelow(group, { ...inside, base: madeCode, free: place.base === undefined ? place.free : rest })
    let failures = 0
    for (let code = stream.next(); code !== undefined && !build.isOver(this.#end); code = stream.next()) {
      if (!this.#takes(group, { code, owned, words })) continue
      stream.taken()
      if (this.#placeBelow(group, { ...inside, base: code })) {
        if (group.keys.length === 0) words.push(code)
        return true
      }
      for (const key of keysIn(group)) if (!build.isMade(key)) build.remove(key)
      if (++failures >= OTHER_CODES) return false
    }
    return false
  }

  /** Gives the group's first key the code; for a group without a key sees that the code keeps away from its like. */
  #takes(
    group: ChartGroup,
    { code, owned, words }: { code: Code; owned: readonly number[]; words: readonly Code[] },
  ): boolean {
    const { minDifferingDiscs } = this.#build.demands
    const near = (other: Code) => owned.filter((disc) => other[disc] !== code[disc]).length < minDifferingDiscs
    if (owned.length > 0 && words.some(near)) return false
    const [first] = group.keys
    if (first === undefined) return true
    if (this.#build.clash(first, code) !== undefined) return false
    this.#build.place(first, code)
    return true
  }

  /** Further keys of a group: as its first, but for a disc or two of their own. @returns the discs that are left */
  #placeSpareKeys(group: ChartGroup, place: Place): readonly number[] | undefined {
    const spare = group.keys.filter((key) => this.#build.codes[key] === undefined)
    if (spare.length === 0) return place.free
    const { shape } = this.#build.demands
    const least =
      Math.max(1, spareKeyDiscs(spare.length + 1, this.#demands)) + (shape.rules.congruence === undefined ? 0 : 1)
    for (let size = least; size <= place.free.length; size++)
      for (let choice = 0; choice < DISC_CHOICES; choice++) {
        const owned = shuffled(place.free, this.#chance).slice(0, size)
        const stream = codeStream(
          { shape, base: place.base, owned, masks: place.masks, weight: undefined, distance: 1, spend: this.#spend },
          this.#chance,
        )
        const placed = spare.filter((key) => this.#placeNext(key, stream))
        if (placed.length === spare.length) return place.free.filter((disc) => !owned.includes(disc))
        for (const key of placed) this.#build.remove(key)
      }
    return undefined
  }

  #placeNext(key: number, stream: CodeStream): boolean {
    for (let code = stream.next(); code !== undefined && !this.#build.isOver(this.#end); code = stream.next()) {
      if (this.#build.clash(key, code) !== undefined) continue
      this.#build.place(key, code)
      stream.taken()
      return true
    }
    return false
  }

  /** Discs for a level: those that its existing keys differ on, and more drawn from the free ones. */
  #chooseDiscs(
    group: ChartGroup,
    { place, size, usual }: { place: Place; size: number; usual: boolean },
  ): readonly number[] | undefined {
    const { base, free } = place
    const made =
      base === undefined
        ? []
        : this.#leftBy(
            group.children.flatMap(({ keys }) => keys),
            base,
          )
    const deeper = base === undefined ? [] : this.#leftBy(group.children.flatMap(keysIn), base)
    const others = free.filter((disc) => !made.includes(disc))
    const wanted = size - made.length
    if (wanted > others.length) return undefined
    if (wanted <= 0) return made
    const known = usual ? (this.#usual[place.depth] ?? []) : []
    if (
      known.length === size &&
      made.every((disc) => known.includes(disc)) &&
      known.every((disc) => made.includes(disc) || free.includes(disc))
    )
      return known
    // Steps between neighbours leave more room to discs that lie together.
    const { maxStep } = this.#build.demands.shape.rules
    const start = maxStep === undefined ? 0 : this.#chance(others.length - wanted + 1)
    const order = maxStep === undefined ? shuffled(others, this.#chance) : others
    const lastDeeper = order.toSorted((a, b) => Number(deeper.includes(a)) - Number(deeper.includes(b)))
    return [...made, ...lastDeeper.slice(start, start + wanted)].sort((a, b) => a - b)
  }

  /** Discs on which existing ones of some keys leave a code. */
  #leftBy(keys: readonly number[], base: Code): number[] {
    const codes = keys.filter((key) => this.#build.isMade(key)).map((key) => this.#build.codes[key])
    return discsOf(base.length).filter((disc) => codes.some((code) => code?.[disc] !== base[disc]))
  }

  /** Values for the keys below a group: those of its shared locks that are made already, or few enough for those to come. */
  #sharedMasks({ shared }: ChartGroup, { masks, free, base }: Place): readonly number[] {
    const made = shared.filter((lock) => lock < this.#build.order.madeGates.length)
    if (made.length > 0)
      return masks.map((mask, disc) => made.reduce((bits, lock) => bits & (this.#build.gatesOf(lock)[disc] ?? 0), mask))
    return shared.length > 0 ? this.#fewValues(masks, { discs: free, base }) : masks
  }

  /** Narrows every free disc to as many values as it may have gates: all keys below share a lock. */
  #fewValues(
    masks: readonly number[],
    { discs, base }: { discs: readonly number[]; base: Code | undefined },
  ): number[] {
    const { gates } = this.#demands
    return masks.map((mask, disc) => {
      if (!discs.includes(disc)) return mask
      const own = base?.[disc]
      const others = shuffled(
        valuesOf(mask).filter((value) => value !== own),
        this.#chance,
      )
      const kept = own === undefined ? others.slice(0, gates) : [own, ...others.slice(0, gates - 1)]
      return kept.reduce((bits, value) => bits | (1 << value), 0)
    })
  }
}

interface Fit {
  readonly stream: CodeStream
  /** Discs left for the levels below. */
  readonly rest: readonly number[]
  readonly place: Place
  readonly owned: readonly number[]
  /** Codes of groups without a key of their own. */
  readonly words: Code[]
}

const discsOf = (discs: number) => Array.from({ length: discs }, (_, disc) => disc)
const span = (from: number, to: number) =>
  Number.isFinite(from) ? Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i) : []
