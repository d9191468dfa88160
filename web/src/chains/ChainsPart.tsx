import { type DesignPlan, type Finding, formatQuantity, gapWords } from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { ChainDiagram } from './ChainDiagram.tsx'
import { ChainKey } from './ChainKey.tsx'
import { ChainTable } from './ChainTable.tsx'
import { chainGroups, lockAtEach, lockEvidence } from './chain-view.ts'
import { lockWords } from './chain-words.ts'
import './chains.css'

/** Every chain of a design, one drawn at a time, and the whole lock at each temperature. Drawn from the figures as they stand in the form. */
export function ChainsPart({ findings, plan }: { findings: readonly Finding[]; plan: DesignPlan }) {
  const groups = useMemo(() => chainGroups(findings), [findings])
  const [chosen, setChosen] = useState<string>()
  const group = groups.find(({ key }) => key === chosen) ?? groups[0]
  if (group === undefined) return null
  return (
    <section className="chains" aria-labelledby="chains-title">
      <div className="section-head">
        <h2 id="chains-title">Chains of dimensions</h2>
        <small>all contributors to one scale, as they move the result; drawn from the figures in the form</small>
      </div>
      <WholeLock plan={plan} />
      <div className="chain-columns">
        <ul className="chain-list" aria-label="Chains, tightest first">
          {groups.map(({ key, title, tightest }) => (
            <li key={key}>
              <button
                type="button"
                aria-pressed={key === group.key}
                className="chain-choice tap"
                onClick={() => setChosen(key)}
              >
                <span>{title}</span>
                <small className={tightest.verdict === 'falls-short' ? 'short' : 'quiet'}>{gapWords(tightest)}</small>
              </button>
            </li>
          ))}
        </ul>
        <div className="chain-drawn-part">
          <h3>{group.title}</h3>
          <ChainDiagram title={group.title} cases={group.cases} />
          <ChainKey />
          <details className="chain-figures">
            <summary className="tap">The same as tables</summary>
            <ChainTable title={group.title} cases={group.cases} />
          </details>
        </div>
      </div>
    </section>
  )
}

function WholeLock({ plan }: { plan: DesignPlan }) {
  const evidence = lockEvidence(plan.operations)
  const each = useMemo(() => (evidence === undefined ? [] : lockAtEach(evidence)), [evidence])
  if (each.length === 0) return null
  return (
    <dl className="facts chain-lock" aria-label="Locks with every chain inside its limits, simulated">
      {each.map((at) => (
        <div key={at.temperatureC}>
          <dt>Whole lock at {formatQuantity(at.temperatureC, '°C')}</dt>
          <dd className="figure">{lockWords(at)}</dd>
        </div>
      ))}
      <div>
        <dt>At all of them, from the same parts</dt>
        <dd className="figure">{wholeLockWords(plan)}</dd>
      </div>
    </dl>
  )
}

function wholeLockWords({ operations }: DesignPlan): string {
  const setting = operations
    .flatMap(({ settings }) => settings)
    .find(({ evidence }) => evidence !== undefined && evidence === lockEvidence(operations))
  return typeof setting?.value === 'number' ? formatQuantity(setting.value, '%', 4) : 'not known'
}
