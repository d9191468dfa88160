import { type Design, type Finding, formatMinutes, type OperationPlan, type StepTime } from '@haspwright/engine'
import { partDrawing } from '@haspwright/papers/drawing'
import type { ReactNode } from 'react'
import { CautionList } from '../sheet/CautionList.tsx'
import { Drawing } from '../sheet/Drawing.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { FindingTable } from './FindingTable.tsx'
import { FindingWorking } from './FindingWorking.tsx'
import { GaugeTable } from './GaugeTable.tsx'
import { SettingList } from './SettingList.tsx'
import { SizeTable } from './SizeTable.tsx'
import './operation-sheet.css'

/** A station's sheet: the part drawn large, what to do, what to set, what it must hold. Printed, it is the sheet alone. */
export function OperationSheet({
  operation,
  design,
  findings,
  finding,
  place,
  orderId,
  onOpenFinding,
  bringIntoView,
  cardHref,
  whatIf,
  predicted,
}: {
  operation: OperationPlan
  design: Design
  findings: readonly Finding[]
  /** The margin whose working is open. */
  finding: Finding | undefined
  place: { readonly number: number; readonly of: number }
  orderId: string
  onOpenFinding: (finding: Finding | undefined) => void
  /** The working was opened by hand, not by the address. */
  bringIntoView: boolean
  /** Where the step's job card is, once the papers are made. */
  cardHref: string | undefined
  whatIf: ReactNode
  /** What a station draws of its own beside its settings. */
  predicted?: ReactNode
}) {
  const { title, instruction, workCentre, settings, sizes, gauges, record, cautions } = operation
  return (
    <article className="sheet operation-sheet" aria-labelledby="sheet-title">
      <header className="sheet-head">
        <div>
          <h2 id="sheet-title">{title}</h2>
          <p className="quiet">{instruction}</p>
        </div>
        <p className="sheet-actions screen-only">
          <button type="button" className="button" onClick={() => print()}>
            Print sheet
          </button>
          {cardHref === undefined ? null : (
            <a href={cardHref} target="_blank" rel="noreferrer" className="small tap">
              Job card, PDF
            </a>
          )}
        </p>
      </header>
      <Drawing svg={partDrawing(operation.operation, design, 'sheet')} className="sheet-drawing" />
      <CautionList cautions={cautions} />
      {finding === undefined ? null : (
        <FindingWorking finding={finding} bringIntoView={bringIntoView} onClose={() => onOpenFinding(undefined)} />
      )}
      {whatIf}
      <SettingList settings={settings} />
      {predicted}
      <SizeTable sizes={sizes} />
      <GaugeTable gauges={gauges} />
      <Times operation={operation} />
      <FindingTable findings={findings} onOpen={onOpenFinding} />
      {record.length === 0 ? null : (
        <section className="sheet-part">
          <h3>Write down</h3>
          <ul className="record">
            {record.map((what) => (
              <li key={what}>
                {what} <span className="record-line" aria-hidden="true" />
              </li>
            ))}
          </ul>
        </section>
      )}
      <TitleBlock
        cells={[
          ['sheet', `${place.number} / ${place.of}`],
          ['design', `${design.id} rev ${design.revision}`],
          ['order', orderId],
          ['at', workCentre],
        ]}
      />
    </article>
  )
}

function Times({ operation: { setupMinutes, time } }: { operation: OperationPlan }) {
  return (
    <section className="sheet-part">
      <h3>Time</h3>
      <dl className="facts">
        <div>
          <dt>Set-up</dt>
          <dd className="figure">{formatMinutes(setupMinutes)}</dd>
        </div>
        <div>
          <dt>{time === null ? 'Running time' : runTitle(time)}</dt>
          <dd className="figure">{time === null ? 'not known yet' : formatMinutes(time.minutes)}</dd>
        </div>
        {time?.firstMinutes === undefined ? null : (
          <div>
            <dt>First load through after</dt>
            <dd className="figure">{formatMinutes(time.firstMinutes)}</dd>
          </div>
        )}
        {time?.within === undefined ? null : (
          <div>
            <dt>Counted with</dt>
            <dd>{time.within}, in the same round</dd>
          </div>
        )}
        {time?.piecesPerLoad === undefined ? null : (
          <div>
            <dt>Most {time.of} in a load</dt>
            <dd className="figure">{time.piecesPerLoad}</dd>
          </div>
        )}
      </dl>
    </section>
  )
}

function runTitle({ per, of, unattended }: StepTime): string {
  const one = { locks: 'lock', keys: 'key', samples: 'sample' }[of]
  return `${per === 'load' ? 'Each load' : `Each ${one}`}${unattended ? ', unattended' : ''}`
}
