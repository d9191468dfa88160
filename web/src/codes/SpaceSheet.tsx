import type { CodeShape } from '@haspwright/engine'
import type { CodeSpaceSummary } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useMemo } from 'react'
import { useDesign } from '../api/designs.ts'
import { codesWords, percentWords, surelyWords } from '../mechanism/figure-words.ts'
import { CodeActs } from './CodeActs.tsx'
import { RuleCostTable } from './RuleCostTable.tsx'
import { shareOf } from './rule-costs.ts'
import { SpaceBar } from './SpaceBar.tsx'
import { codesLeft } from './space-parts.ts'
import { useRuleCosts } from './use-rule-costs.ts'

/** The codes of one design: how many, how many of them usable, given out and left, and what each rule costs. */
export function SpaceSheet({
  space,
  sharedWith,
  onTry,
}: {
  space: CodeSpaceSummary
  sharedWith: readonly CodeSpaceSummary[]
  onTry: (shape: CodeShape, from: string) => void
}) {
  const design = useDesign(space.design)
  const mechanism = design.data?.content.mechanism
  const shape = useMemo<CodeShape | undefined>(
    () =>
      mechanism === undefined
        ? undefined
        : { discs: mechanism.discs, values: mechanism.values, rules: mechanism.rules },
    [mechanism],
  )
  const { costs } = useRuleCosts(shape)
  const { total, usable, givenOut, orders } = space
  const left = usable === undefined ? undefined : codesLeft(space, usable)
  const id = `space-${space.design}`
  return (
    <section className="space-sheet" aria-labelledby={id}>
      <div className="section-head">
        <h2 id={id}>
          <Link to="/designs/$designId/mechanism" params={{ designId: space.design }}>
            {space.title}
          </Link>
        </h2>
        <small>
          design {space.design} · {space.discs} discs of {space.values} values · code space{' '}
          <span className="figure">{space.space.slice(0, 8)}</span>
        </small>
      </div>
      {usable === undefined || left === undefined ? (
        <p className="short">The rules of this design are out of reach to count together.</p>
      ) : (
        <SpaceBar space={space} usable={usable} />
      )}
      <dl className="figure-row">
        <Count title="Codes in all" value={codesWords(total)} under={`${space.values} to the power ${space.discs}`} />
        <Count
          title="Usable under the rules"
          value={usable === undefined ? 'not known' : codesWords(usable)}
          under={usable === undefined ? 'too many states to count' : `${percentWords(shareOf(usable, total))} of all`}
        />
        <Count
          title="Given out"
          value={codesWords(givenOut)}
          under={
            orders.length === 0 ? 'no order yet' : `to ${orders.length === 1 ? 'order' : 'orders'} ${orders.join(', ')}`
          }
        />
        <Count
          title="Left"
          value={left === undefined ? 'not known' : codesWords(left)}
          under={
            usable === undefined || left === undefined ? '' : `${surelyWords(shareOf(left, usable))} of the usable`
          }
        />
        <Count title="Withdrawn" value={codesWords(space.withdrawn)} under="never given out again" />
        <Count title="Reserved" value={codesWords(space.reserved)} under={rangesWords(space.reservations.length)} />
        <Count
          title="From before the tool"
          value={codesWords(space.imported)}
          under={listsWords(space.imports.length)}
        />
        {space.passedOver === '0' ? null : (
          <Count
            title="Passed over"
            value={codesWords(space.passedOver)}
            under="their keys would open a lock under a master"
          />
        )}
      </dl>
      {sharedWith.length === 0 ? null : (
        <p className="small quiet">
          Shared with {sharedWith.map(({ title }) => title).join(', ')}: the same discs, values and rules have one
          numbering, and no code is given out twice.
        </p>
      )}
      <CodeActs space={space} />
      {costs?.ok === true ? (
        <RuleCostTable costs={costs} />
      ) : (
        <p className="quiet space-wait" role="status">
          {costs === undefined
            ? 'Counting what each rule costs …'
            : costs.issues.map(({ message }) => message).join(' ')}
        </p>
      )}
      {shape === undefined ? null : (
        <p className="screen-only">
          <button type="button" className="button" onClick={() => onTry(shape, space.design)}>
            Try other rules for {space.title}
          </button>
        </p>
      )}
    </section>
  )
}

const rangesWords = (ranges: number) => (ranges === 0 ? 'no range' : ranges === 1 ? 'one range' : `${ranges} ranges`)
const listsWords = (lists: number) => (lists === 0 ? 'no list taken over' : lists === 1 ? 'one list' : `${lists} lists`)

function Count({ title, value, under }: { title: string; value: string; under: string }) {
  return (
    <div className="figure-cell">
      <dt className="label quiet">{title}</dt>
      <dd className="figure-value">{value}</dd>
      <dd className="small quiet">{under}</dd>
    </div>
  )
}
