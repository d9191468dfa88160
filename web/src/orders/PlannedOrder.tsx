import type { Finding, WorksPlan } from '@haspwright/engine'
import type { PlanState } from '@haspwright/server/client'
import { getRouteApi } from '@tanstack/react-router'
import { useMemo, useRef } from 'react'
import { usePapers } from '../api/orders.ts'
import { LineLink } from '../finish/LineLink.tsx'
import { HeatStation } from '../heat/HeatStation.tsx'
import { ownHeats } from '../heat/own-analysis.ts'
import { Margins } from '../margins/Margins.tsx'
import { RouteLine } from '../route/RouteLine.tsx'
import { SolidLink } from '../solid/SolidLink.tsx'
import { useWhatIf } from '../what-if/use-what-if.ts'
import { WhatIfPanel } from '../what-if/WhatIfPanel.tsx'
import { BarCuttingPart } from './BarCuttingPart.tsx'
import { ChangeBar } from './ChangeBar.tsx'
import { DesignSwitch } from './DesignSwitch.tsx'
import { LotsTable } from './LotsTable.tsx'
import { OperationSheet } from './OperationSheet.tsx'
import { OrderTitle } from './OrderTitle.tsx'
import { OutdatedLine } from './OutdatedLine.tsx'
import { PapersPart } from './PapersPart.tsx'
import { jobCardOf } from './paper-groups.ts'
import { SentenceLine } from './SentenceLine.tsx'
import { stationNames, stationsOf } from './stations.ts'

const route = getRouteApi('/orders/$orderId')

/** The central view: the sentence, the route, all margins, and one station's sheet. */
export function PlannedOrder({ plan, planState }: { plan: WorksPlan; planState: PlanState }) {
  const search = route.useSearch()
  const navigate = route.useNavigate()
  const planned = plan.designs.find(({ design }) => design.id === search.design) ?? tightestDesign(plan)
  if (planned === undefined) throw new Error('The plan holds no design.')
  const own = useMemo(() => ownHeats(search.analysis, plan.designs), [search.analysis, plan.designs])
  const whatIf = useWhatIf(plan, planned.design, own)
  const { shown, before, isChanged, followsOwnHeat } = whatIf
  const current = shown.designs.find(({ design }) => design.id === planned.design.id) ?? planned
  const stations = stationsOf(current, shown.findings)
  const station = stations.find(({ operation }) => operation.operation === search.station) ?? tightestStation(stations)
  if (station === undefined) throw new Error('The route holds no operation.')
  const { operation } = station
  const opened = shown.findings.find(({ id }) => id === search.finding && id !== undefined)
  const findings = search.only ? station.findings : shown.findings

  const papers = usePapers(plan.order.id)
  const openedByHand = useRef(false)
  const go = (next: Partial<typeof search>) =>
    void navigate({ search: (was) => ({ ...was, ...next }), replace: true, resetScroll: false })
  const openStation = (key: string) =>
    void navigate({
      search: ({ finding: _, ...was }) => ({ ...was, design: current.design.id, station: key }),
      replace: true,
      resetScroll: false,
    })
  const openFinding = (finding: Finding | undefined) => {
    openedByHand.current = true
    if (finding === undefined)
      return void navigate({ search: ({ finding: _, ...was }) => was, replace: true, resetScroll: false })
    const at = shown.designs.flatMap(({ design, operations }) =>
      operations
        .filter(({ id }) => id === finding.operation)
        .map((each) => ({ design: design.id, station: each.operation })),
    )[0]
    go({ ...at, finding: finding.id })
  }
  const openHere = opened !== undefined && opened.operation === operation.id ? opened : undefined

  return (
    <div className="order-page">
      <div className="screen-only order-top">
        <OrderTitle order={plan.order} plan={plan} />
        <SentenceLine sentence={shown.sentence} />
      </div>
      <OutdatedLine orderId={plan.order.id} planState={planState} />
      <ChangeBar orderId={plan.order.id} planned={planned.design} whatIf={whatIf} />
      {followsOwnHeat ? (
        <p className="small screen-only" role="status">
          The margins of {[...own.keys()].join(', ')} follow the analysis typed at hardening, not the stock of the
          works. Nothing of it is stored.
        </p>
      ) : null}
      <DesignSwitch
        designs={shown.designs.map(({ design }) => design)}
        findings={shown.findings}
        selected={current.design.id}
        onSelect={(design) =>
          void navigate({ search: ({ finding: _, ...was }) => ({ ...was, design }), replace: true, resetScroll: false })
        }
      />
      <RouteLine design={current.design} stations={stations} selected={operation.operation} onSelect={openStation}>
        <div className="order-columns">
          <OperationSheet
            operation={operation}
            design={current.design}
            findings={station.findings}
            finding={openHere}
            place={{ number: stations.indexOf(station) + 1, of: stations.length }}
            orderId={plan.order.id}
            onOpenFinding={openFinding}
            bringIntoView={openedByHand.current}
            cardHref={jobCardOf(papers.data ?? [], current.design.id, operation.operation)?.href}
            predicted={
              operation.operation === 'harden' ? (
                <HeatStation
                  key={current.design.id}
                  plan={plan}
                  design={current.design}
                  designs={shown.designs}
                  whatIf={whatIf}
                />
              ) : (
                <>
                  <LineLink orderId={plan.order.id} design={current.design.id} operation={operation.operation} />
                  <SolidLink designId={current.design.id} operation={operation.operation} papers={papers.data ?? []} />
                </>
              )
            }
            whatIf={<WhatIfPanel operationId={operation.id} design={planned.design} plan={plan} whatIf={whatIf} />}
          />
          <div className="order-margins screen-only">
            <Margins
              findings={findings}
              {...(isChanged || followsOwnHeat ? { before } : {})}
              stationOf={stationNames(shown.designs)}
              selected={openHere?.id}
              onOpen={openFinding}
              filter={
                <label className="only-station">
                  <input
                    type="checkbox"
                    checked={search.only === true}
                    onChange={(event) =>
                      event.target.checked
                        ? go({ only: true })
                        : void navigate({ search: ({ only: _, ...was }) => was, replace: true, resetScroll: false })
                    }
                  />{' '}
                  only {operation.title}
                </label>
              }
            />
          </div>
        </div>
        {operation.operation === 'cut-bar' ? <BarCuttingPart cuttings={shown.barCutting} /> : null}
      </RouteLine>
      <div className="order-below screen-only">
        <LotsTable lots={shown.lots} />
        <PapersPart orderId={plan.order.id} current={planState === 'current'} />
      </div>
    </div>
  )
}

/** Where the eye should go first: the design and the station of the tightest margin. */
function tightestDesign(plan: WorksPlan) {
  const tightest = plan.findings[0]
  return (
    plan.designs.find(({ operations }) => operations.some(({ id }) => id === tightest?.operation)) ?? plan.designs[0]
  )
}

function tightestStation(stations: ReturnType<typeof stationsOf>) {
  return stations.reduce<(typeof stations)[number] | undefined>(
    (best, each) =>
      best === undefined || (each.tightest ?? Number.POSITIVE_INFINITY) < (best.tightest ?? Number.POSITIVE_INFINITY)
        ? each
        : best,
    undefined,
  )
}
