import { useState } from 'react'

const MOST = 4_294_967_295

/** What a chart is drawn from by chance, and why it is shown. */
export function SeedField({ seed, onSeed }: { seed: number | undefined; onSeed: (seed: number | undefined) => void }) {
  const [typed, setTyped] = useState(`${seed ?? ''}`)
  const change = (text: string) => {
    setTyped(text)
    const value = text.trim() === '' ? Number.NaN : Number(text)
    onSeed(Number.isInteger(value) && value >= 0 && value <= MOST ? value : undefined)
  }
  return (
    <div className="field">
      <label htmlFor="chart-seed">Seed</label>
      <span className="entry seed-entry">
        <input
          id="chart-seed"
          inputMode="numeric"
          autoComplete="off"
          value={typed}
          aria-invalid={seed === undefined}
          aria-describedby="chart-seed-hint"
          onChange={(event) => change(event.target.value)}
        />
        <button type="button" className="button" onClick={() => change(`${((seed ?? 0) + 1) % (MOST + 1)}`)}>
          Next seed
        </button>
      </span>
      <p id="chart-seed-hint" className={seed === undefined ? 'hint short' : 'hint'}>
        {seed === undefined
          ? `The seed must be a whole number from 0 to ${MOST}.`
          : 'Same order, design and seed give the same chart, so that a colleague finds what you found; another seed may find one where this does not. Whoever knows the seed can draw the cuts: locks that are made get theirs under the key of the works.'}
      </p>
    </div>
  )
}
