import { Link } from '@tanstack/react-router'
import { useDeferredValue, useMemo, useState } from 'react'
import { useDesign, useDesigns } from '../api/designs.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { ChartMatrix } from './ChartMatrix.tsx'
import { ChartOutcome } from './ChartOutcome.tsx'
import { ChartTree } from './ChartTree.tsx'
import { type NamedOrder, readChartText } from './chart-order-text.ts'
import { inTreeOrder, keyTree } from './chart-tree.ts'
import { ExtendChart } from './ExtendChart.tsx'
import { FromOrder } from './FromOrder.tsx'
import { askedOf, extendedOrder } from './made-chart.ts'
import { SeedField } from './SeedField.tsx'
import { useChart } from './use-chart.ts'
import { useMadeChart } from './use-made-chart.ts'
import '../fields/fields.css'
import '../orders/order-page.css'
import '../mechanism/mechanism.css'
import './charts.css'

const EXAMPLE = `Boathouse: K1, Quay master, Harbour master
Slipway: K2, Quay master, Harbour master
Fuel store: K3, Quay master, Harbour master
Chandlery: K4, Yard master, Harbour master
Sail loft: K5, Yard master, Harbour master
Crane: K6, Yard master, Harbour master`

/** Charts of keys and locks: who opens what, by names, tried on a design. No cut is shown here, kept or sent. */
export function ChartsPage() {
  const designs = useDesigns()
  usePageTitle('Charts')
  if (designs.isPending) return <Waiting what="the designs" />
  if (designs.isError) return <FaultPage error={designs.error} retry={() => void designs.refetch()} />
  return <ChartSheet designs={designs.data} />
}

function ChartSheet({ designs }: { designs: readonly { id: string; title: string }[] }) {
  const [text, setText] = useState(EXAMPLE)
  const [designId, setDesignId] = useState(designs[0]?.id ?? '')
  const [seconds, setSeconds] = useState(10)
  const [seed, setSeed] = useState<number | undefined>(1)
  const design = useDesign(designId)
  const { charting, ask, cancel } = useChart()
  const [placed, setPlaced] = useState<NamedOrder>()
  // Typing comes first: tree and matrix follow as soon as they can.
  const read = useDeferredValue(text)
  const { order: typed, troubles } = useMemo(() => readChartText(read), [read])
  const made = useMadeChart()
  const order = useMemo(() => extendedOrder(made.order, typed), [made.order, typed])
  const tree = useMemo(() => keyTree(order), [order])
  const sorted = useMemo(() => inTreeOrder(order, tree), [order, tree])
  const mechanism = design.data?.content.mechanism
  const ready =
    troubles.length === 0 &&
    typed.locks.length > 0 &&
    mechanism !== undefined &&
    seed !== undefined &&
    !made.reading &&
    made.trouble === undefined
  const running = charting.state === 'running'
  const takeText = (taken: string, design: string) => {
    setText(taken)
    setDesignId(design)
  }
  const place = () => {
    if (mechanism === undefined || seed === undefined) return
    const { discs, values, rules, maxGatesPerDisc, minDifferingDiscs } = mechanism
    const demands = { shape: { discs, values, rules }, maxGatesPerDisc, minDifferingDiscs, seconds, seed }
    const existing = made.chosen === undefined ? {} : { existing: made.chosen.file }
    setPlaced(order)
    ask({ order: askedOf(order, typed), ...demands, ...existing })
  }
  return (
    <div className="page charts-page">
      <p className="small quiet">
        <Link to="/codes" className="tap">
          Codes
        </Link>{' '}
        / charts
      </p>
      <h1>Charts of keys and locks</h1>
      <p className="lead">
        Who opens what, by names, and whether a design can do it. The cuts found on the way are never shown, stored or
        sent. Locks that are made get theirs under the key of the works, when their order is planned.
      </p>
      <div className="chart-columns">
        <form
          className="chart-order"
          aria-label="Order of keys and locks"
          onSubmit={(event) => {
            event.preventDefault()
            if (ready && !running) place()
          }}
        >
          <div className="field">
            <label htmlFor="chart-text">Locks, and the keys that open each</label>
            <textarea
              id="chart-text"
              spellCheck={false}
              autoComplete="off"
              value={text}
              aria-describedby="chart-text-hint"
              aria-invalid={troubles.length > 0}
              onChange={(event) => setText(event.target.value)}
            />
            <p id="chart-text-hint" className="hint">
              One lock a line: name, colon, its keys with commas between. Columns pasted from a spreadsheet do as well.
            </p>
          </div>
          <FromOrder onText={takeText} />
          <ExtendChart made={made} typed={typed} />
          <div className="chart-settings">
            <div className="field">
              <label htmlFor="chart-design">Design</label>
              <span className="entry">
                <select id="chart-design" value={designId} onChange={(event) => setDesignId(event.target.value)}>
                  {designs.map(({ id, title }) => (
                    <option key={id} value={id}>
                      {title}, {id}
                    </option>
                  ))}
                </select>
              </span>
            </div>
            <div className="field">
              <label htmlFor="chart-seconds">Search time, about</label>
              <span className="entry">
                <select id="chart-seconds" value={seconds} onChange={(event) => setSeconds(Number(event.target.value))}>
                  {[10, 60, 300].map((value) => (
                    <option key={value} value={value}>
                      {value} s
                    </option>
                  ))}
                </select>
              </span>
            </div>
          </div>
          {mechanism === undefined ? null : (
            <p className="small quiet">
              {mechanism.discs} discs of {mechanism.values} values, at most {mechanism.maxGatesPerDisc} gates on a disc;
              a key must miss {mechanism.minDifferingDiscs} {mechanism.minDifferingDiscs === 1 ? 'disc' : 'discs'} of
              every lock it may not open.
            </p>
          )}
          <SeedField seed={seed} onSeed={setSeed} />
          <Troubles troubles={troubles} />
          <p className="form-buttons">
            <button type="submit" className="button primary" disabled={!ready || running}>
              Place the chart
            </button>
            {running ? (
              <button type="button" className="button" onClick={cancel}>
                Cancel
              </button>
            ) : null}
          </p>
        </form>
        <div className="chart-right">
          <ChartOutcome
            charting={charting}
            isOfThisOrder={placed === order}
            onExtend={(file, { keys, locks }) => {
              made.choose({ file, title: `Chart of ${keys} keys and ${locks} locks placed here` })
              setText('')
            }}
          />
          <ChartTree tree={tree} order={order} />
        </div>
      </div>
      <ChartMatrix order={sorted} made={made.order} />
    </div>
  )
}

function Troubles({ troubles }: { troubles: ReturnType<typeof readChartText>['troubles'] }) {
  if (troubles.length === 0) return null
  return (
    <ul className="issue-lines" role="alert" aria-label="Lines to be mended">
      {troubles.slice(0, 20).map(({ line, message }) => (
        <li key={`${line} ${message}`}>
          <p>
            Line {line}: {message}
          </p>
        </li>
      ))}
      {troubles.length > 20 ? (
        <li>
          <p>and {troubles.length - 20} more lines</p>
        </li>
      ) : null}
    </ul>
  )
}
