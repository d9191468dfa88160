import { type Design, shareWords } from '@haspwright/engine'
import { partDrawing } from '@haspwright/papers/drawing'
import type { CSSProperties, ReactNode } from 'react'
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import type { Station } from '../orders/stations.ts'
import { Drawing } from '../sheet/Drawing.tsx'
import './route-line.css'

/** The route as a line of stations, each with the part as it is there. Arrow keys move along it, Enter opens a station. */
export function RouteLine({
  design,
  stations,
  selected,
  onSelect,
  children,
}: {
  design: Design
  stations: readonly Station[]
  selected: string
  onSelect: (operation: string) => void
  /** The opened station's sheet and what stands beside it. */
  children: ReactNode
}) {
  return (
    <Tabs keyboardActivation="manual" selectedKey={selected} onSelectionChange={(key) => onSelect(String(key))}>
      <TabList
        aria-label={`Route of ${design.title}`}
        className="route screen-only"
        style={{ '--stations': stations.length } as CSSProperties}
      >
        {stations.map(({ operation, verdict, tightest }) => (
          <Tab key={operation.operation} id={operation.operation} className="station" data-verdict={verdict}>
            <Drawing svg={partDrawing(operation.operation, design, 'station')} className="station-drawing" decoration />
            <span className="station-title">{operation.title}</span>
            <span className="station-margin">
              <StationMargin verdict={verdict} tightest={tightest} />
            </span>
          </Tab>
        ))}
      </TabList>
      <TabPanel id={selected} className="station-panel">
        {children}
      </TabPanel>
    </Tabs>
  )
}

function StationMargin({ verdict, tightest }: { verdict: Station['verdict']; tightest: number | undefined }) {
  if (verdict === 'nothing-asked')
    return (
      <>
        <span aria-hidden="true">–</span>
        <span className="visually-hidden">no margin asked</span>
      </>
    )
  if (verdict === 'not-known')
    return (
      <>
        <span aria-hidden="true">?</span>
        <span className="visually-hidden">not known yet</span>
      </>
    )
  if (verdict === 'holds') return shareWords(tightest)
  return (
    <>
      {shareWords(tightest)} <b>short</b>
    </>
  )
}
