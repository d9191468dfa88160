import { type Design, type DesignPlan, demandOf, shackleHeats, type WorksPlan } from '@haspwright/engine'
import { useState } from 'react'
import { NoticeList } from '../sheet/NoticeList.tsx'
import type { WhatIf } from '../what-if/use-what-if.ts'
import { ColdPart } from './ColdPart.tsx'
import { FurnacePart } from './FurnacePart.tsx'
import { HardnessTable } from './HardnessTable.tsx'
import type { HeatView } from './heat-view.ts'
import { LoadsPart } from './LoadsPart.tsx'
import { OwnAnalysisPart } from './OwnAnalysisPart.tsx'
import { SectionPlot } from './SectionPlot.tsx'
import { TemperingPlot } from './TemperingPlot.tsx'
import { TryHeat } from './TryHeat.tsx'
import { temperingWords } from './tempering-words.ts'
import { useHeatView } from './use-heat.ts'
import { useOwnAnalysis } from './use-own-analysis.ts'
import './heat.css'

/** What the hardening station shows of its design and order beside its settings: predicted, recorded, and what is not known. */
export function HeatStation({
  plan,
  design,
  designs,
  whatIf,
}: {
  plan: WorksPlan
  /** With the figures that are being tried. */
  design: Design
  designs: readonly DesignPlan[]
  whatIf: WhatIf
}) {
  const own = useOwnAnalysis(design)
  const stock = shackleHeats(design, plan.works, demandOf(plan.order, design.id).shackleHeats)
  const [number, choose] = useState<string>()
  const inStock = stock.find((each) => each.number === number) ?? stock[0]
  const analysis = own.result.own?.analysis ?? inStock?.analysis
  const { data: view, isError, error, isFetching } = useHeatView(design, analysis)
  return (
    <div className="heat" aria-busy={isFetching}>
      <TryHeat whatIf={whatIf} />
      <OwnAnalysisPart design={design} own={own} view={view} stock={{ heats: stock, shown: inStock, choose }} />
      {isError ? (
        <p role="alert" className="short">
          The plots could not be worked out, which is not your fault: {error.message}
        </p>
      ) : null}
      {view === undefined ? (
        <p role="status" className="small quiet">
          Working out the section …
        </p>
      ) : (
        <>
          <SectionPart view={view} design={design} />
          <section className="sheet-part heat-part" aria-labelledby="heat-tempering">
            <h3 id="heat-tempering">Tempering curve</h3>
            <TemperingPlot view={view} design={design} works={plan.works} />
            <ul className="small plot-words">
              {temperingWords(view, design, plan.works).map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </section>
          <FurnacePart view={view} design={design} works={plan.works} />
          <ColdPart view={view} design={design} />
        </>
      )}
      <LoadsPart plan={plan} designs={designs} />
    </div>
  )
}

function SectionPart({ view: { shown, middle, embrittling }, design }: { view: HeatView; design: Design }) {
  const { quenched, tempered } = shown
  // What embrittles is said beside the tempering curve.
  const notices = (tempered.ok ? tempered.notices : []).filter(
    (text) => !embrittling.some(({ name }) => text.startsWith(name)),
  )
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-section">
      <h3 id="heat-section">Hardness over the section</h3>
      <SectionPlot heat={shown} middle={middle} design={design} />
      <HardnessTable heat={shown} />
      {quenched.ok ? (
        <p className="small plot-words">
          Risk of cracking {quenched.output.crackRisk}
          {reasons(quenched.output.crackReasons)}; of distortion {quenched.output.distortionRisk}
          {reasons(quenched.output.distortionReasons)}.
        </p>
      ) : (
        <p>As quenched not known yet: {quenched.because}</p>
      )}
      {tempered.ok ? null : <p>After tempering not known yet: {tempered.because}</p>}
      <NoticeList notices={[...(quenched.ok ? quenched.notices : []), ...notices]} />
    </section>
  )
}

const reasons = (list: readonly string[]) => (list.length === 0 ? '' : ` (${list.join('; ')})`)
