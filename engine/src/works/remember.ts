/** Keeps the answers last asked for, the oldest making room. */
export class Memory<T> {
  readonly #kept = new Map<string, T>()
  readonly #most: number

  constructor(most: number) {
    this.#most = most
  }

  get(key: string): T | undefined {
    return this.#kept.get(key)
  }

  /** Keeps a value and returns it. */
  keep<V extends T>(key: string, value: V): V {
    this.#kept.set(key, value)
    if (this.#kept.size > this.#most) this.#kept.delete(this.#kept.keys().next().value ?? '')
    return value
  }
}

/** A pure function of plain data that does not compute the same twice. */
export function remembered<A extends readonly unknown[], R>(
  compute: (...given: A) => R,
  most = 200,
): (...given: A) => R {
  const memory = new Memory<{ readonly result: R }>(most)
  return (...given) => {
    const key = JSON.stringify(given)
    return (memory.get(key) ?? memory.keep(key, { result: compute(...given) })).result
  }
}
