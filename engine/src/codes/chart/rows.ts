/**
 * Bit rows, one for each disc and value: bit m of a row says that member m has the value on that disc. Members are keys (one
 * value a disc) or locks (their gates). A question to all members at once is an AND or OR of rows.
 */
export class ValueRows {
  /** Rows looked at so far times their words: the measure of work. */
  work = 0
  readonly #discs: number
  readonly #values: number
  readonly #words: number
  readonly #rows: Uint32Array
  readonly #planes: Int32Array

  constructor({ discs, values }: { discs: number; values: number }, members: number) {
    this.#discs = discs
    this.#values = values
    this.#words = Math.ceil(members / 32)
    this.#rows = new Uint32Array(discs * values * this.#words)
    this.#planes = new Int32Array(discs + 1)
  }

  /** Gives or takes a value. */
  set(member: number, { disc, value, has }: { disc: number; value: number; has: boolean }): void {
    const at = (disc * this.#values + value) * this.#words + (member >>> 5)
    const bit = 1 << (member & 31)
    this.#rows[at] = has ? (this.#rows[at] ?? 0) | bit : (this.#rows[at] ?? 0) & ~bit
  }

  /**
   * A member that shares a value with the masks on all but fewer than `least` discs, those in `except` left out; −1 when every
   * member misses at least that many. Members without any value miss all discs.
   *
   * @param masks value bits of each disc
   * @param least 1 to the number of discs
   */
  near(masks: ArrayLike<number>, { least, except }: { least: number; except: ReadonlySet<number> }): number {
    const rows = this.#rows
    const words = this.#words
    const values = this.#values
    const planes = this.#planes // planes[j]: missed more than j discs
    const top = least - 1
    for (let word = 0; word < words; word++) {
      planes.fill(0, 0, least)
      let disc = 0
      for (; disc < this.#discs && planes[top] !== -1; disc++) {
        let hit = 0
        for (let rest = masks[disc] ?? 0; rest !== 0; rest &= rest - 1)
          hit |= rows[(disc * values + 31 - Math.clz32(rest & -rest)) * words + word] ?? 0
        for (let j = top; j > 0; j--) planes[j] = (planes[j] ?? 0) | ((planes[j - 1] ?? 0) & ~hit)
        planes[0] = (planes[0] ?? 0) | ~hit
      }
      this.work += disc
      for (let rest = ~(planes[top] ?? 0); rest !== 0; rest &= rest - 1) {
        const member = word * 32 + 31 - Math.clz32(rest & -rest)
        if (!except.has(member)) return member
      }
    }
    return -1
  }
}
