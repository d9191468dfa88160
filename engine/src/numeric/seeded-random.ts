/**
 * Random numbers that come out the same for the same seed on every machine: xoshiro128** (Blackman and Vigna), seeded by
 * splitmix32 steps. Not for secrets.
 */
export class SeededRandom {
  readonly #state: Uint32Array
  #spare: number | undefined

  /** @param seed any whole number; its lowest 32 bits count */
  constructor(seed: number) {
    let s = seed >>> 0
    const next = () => {
      s = (s + 0x9e3779b9) >>> 0
      let z = s
      z = Math.imul(z ^ (z >>> 16), 0x21f0aaad)
      z = Math.imul(z ^ (z >>> 15), 0x735a2d97)
      return (z ^ (z >>> 15)) >>> 0
    }
    this.#state = Uint32Array.of(next(), next(), next(), next())
  }

  #word(): number {
    const s = this.#state
    const [a = 0, b = 0, c = 0, d = 0] = s
    const product = Math.imul(b, 5)
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0
    s[2] = c ^ a
    s[3] = d ^ b
    s[1] = b ^ (s[2] ?? 0)
    s[0] = a ^ (s[3] ?? 0)
    s[2] = (s[2] ?? 0) ^ (b << 9)
    const turned = s[3] ?? 0
    s[3] = (turned << 11) | (turned >>> 21)
    return result
  }

  /** Uniform in [0, 1), to 53 bits. */
  uniform(): number {
    return ((this.#word() >>> 5) * 67_108_864 + (this.#word() >>> 6)) / 9_007_199_254_740_992
  }

  /** Standard normal, by Marsaglia's polar method. */
  normal(): number {
    const spare = this.#spare
    if (spare !== undefined) {
      this.#spare = undefined
      return spare
    }
    for (;;) {
      const u = 2 * this.uniform() - 1
      const v = 2 * this.uniform() - 1
      const square = u * u + v * v
      if (square >= 1 || square === 0) continue
      const factor = Math.sqrt((-2 * Math.log(square)) / square)
      this.#spare = v * factor
      return u * factor
    }
  }

  /**
   * Fills the head of an array with normal numbers of mean 0, by the polar method on 32-bit words: coarser than `normal` by bits nobody
   * sees in a simulation, and several times as fast. A stream of its own: it does not go on where `normal` stopped.
   */
  fillNormal(target: Float64Array, size: number, sigma: number): void {
    const state = this.#state
    let [a = 0, b = 0, c = 0, d = 0] = state
    const word = (): number => {
      const product = Math.imul(b, 5)
      const result = Math.imul((product << 7) | (product >>> 25), 9)
      const shifted = b << 9
      c ^= a
      d ^= b
      b ^= c
      a ^= d
      c ^= shifted
      d = (d << 11) | (d >>> 21)
      return result
    }
    for (let k = 0; k < size; ) {
      const u = word() / 2_147_483_648 // −1 to 1
      const v = word() / 2_147_483_648
      const square = u * u + v * v
      if (square >= 1 || square === 0) continue
      const factor = sigma * Math.sqrt((-2 * Math.log(square)) / square)
      target[k++] = u * factor
      if (k < size) target[k++] = v * factor
    }
    state.set([a, b, c, d])
  }
}
