import {
  chain,
  type Evidence,
  type Finding,
  formatNumber,
  gapWords,
  limitWords,
  predictedWords,
} from '@haspwright/engine'
import { useEffect, useMemo, useRef } from 'react'
import { ChainDiagram } from '../chains/ChainDiagram.tsx'
import { ChainKey } from '../chains/ChainKey.tsx'
import { ChainTable } from '../chains/ChainTable.tsx'
import { chainCase } from '../chains/chain-view.ts'
import { LateCalculationLink } from '../evidence/LateCalculationLink.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { SourceList } from '../sheet/SourceList.tsx'
import { Working } from '../sheet/Working.tsx'

/** How a margin came about: what is asked and by whom, the formula with its numbers, who contributes, what it rests on. */
export function FindingWorking({
  finding,
  onClose,
  bringIntoView = true,
}: {
  finding: Finding
  onClose: () => void
  bringIntoView?: boolean
}) {
  const section = useRef<HTMLElement>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  // Opened from the list on the other side of the page: the eye and the screen reader are brought here.
  useEffect(() => {
    if (!bringIntoView || finding.id === '') return
    heading.current?.focus({ preventScroll: true })
    section.current?.scrollIntoView({ block: 'nearest' })
  }, [finding.id, bringIntoView])
  const { title, evidence, remedy, unknownBecause, askedBy, consequence, verdict } = finding
  return (
    <section ref={section} className="finding-working" aria-labelledby="working-title">
      <header>
        <h3 id="working-title" ref={heading} tabIndex={-1}>
          {title}
        </h3>
        <button type="button" className="text-button small screen-only" onClick={onClose}>
          Close working
        </button>
      </header>
      <p className="finding-figures">
        <span className="figure">{predictedWords(finding)}</span>{' '}
        <span className="figure quiet">{limitWords(finding)}</span>{' '}
        <span className={verdict === 'falls-short' ? 'short' : 'quiet'}>{gapWords(finding)}</span>
      </p>
      {unknownBecause === undefined ? null : <p>Not known yet: {unknownBecause}</p>}
      {verdict === 'falls-short' && consequence !== undefined ? <p>What happens: {consequence}.</p> : null}
      {remedy === undefined ? null : (
        <p>
          <strong>{remedy}</strong>
        </p>
      )}
      <ChainPart finding={finding} />
      {evidence === undefined ? null : <EvidenceParts evidence={evidence} />}
      <p className="small quiet">Asked by: {askedBy}</p>
    </section>
  )
}

/** The chain of dimensions behind a margin, drawn; nothing where the margin follows from something else. */
function ChainPart({ finding }: { finding: Finding }) {
  const cases = useMemo(() => {
    const one = chainCase(finding)
    return one === undefined ? [] : [one]
  }, [finding])
  if (cases.length === 0) return null
  return (
    <div className="chain-drawn-part">
      <ChainDiagram title={finding.title} cases={cases} />
      <ChainKey />
      <details className="chain-figures">
        <summary className="tap">The same as tables</summary>
        <ChainTable title={finding.title} cases={cases} />
      </details>
    </div>
  )
}

/** The formula with its numbers, the contributors, sources and notices of a figure. */
export function EvidenceParts({ evidence }: { evidence: Evidence }) {
  const { calculation, input, working, sources, notices, shares = [] } = evidence
  return (
    <div className="evidence-parts">
      <Working working={working} />
      {shares.length === 0 || calculation === chain.id ? null : (
        <div className="contributors">
          <h4 className="label">Who carries the spread</h4>
          <ul>
            {shares
              .filter(({ share }) => share >= 0.005)
              .map(({ name, share }) => (
                <li key={name}>
                  <span>{name}</span>
                  <i style={{ width: `${(share * 100).toFixed(1)}%` }} aria-hidden="true" />
                  <span className="figure">{formatNumber(share * 100, 2)} %</span>
                </li>
              ))}
          </ul>
        </div>
      )}
      <NoticeList notices={notices} />
      <SourceList sources={sources} />
      <LateCalculationLink id={calculation} input={input} />
    </div>
  )
}
