import { formatFixed, formatNumber, formatQuantity } from '@haspwright/engine'
import { useMemo } from 'react'
import { type ChainCase, contributionsOf, outcomeOf } from './chain-view.ts'
import { sensitivityWords, yieldWords } from './chain-words.ts'
import './chains.css'

/** The figures of a chain's drawing, to be read. */
export function ChainTable({ title, cases }: { title: string; cases: readonly ChainCase[] }) {
  const [first] = cases
  const parts = useMemo(() => (first === undefined ? [] : contributionsOf(first.chain)), [first])
  const outcomes = useMemo(() => cases.map((each) => ({ each, outcome: outcomeOf(each.chain) })), [cases])
  return (
    <div className="chain-tables">
      <table className="chain-table">
        <caption className="label">{title}: what each dimension does to the result</caption>
        <thead>
          <tr>
            <th scope="col">Dimension</th>
            <th scope="col">Nominal, mm</th>
            <th scope="col">Tolerance, µm</th>
            <th scope="col">s, µm</th>
            <th scope="col">Share</th>
          </tr>
        </thead>
        <tbody>
          {parts.map(({ name, sensitivity, nominalMm, lowMm, highMm, sigmaMm, share }) => (
            <tr key={name}>
              <th scope="row">
                {sensitivityWords(sensitivity)} {name}
              </th>
              <td>{formatNumber(nominalMm, 5)}</td>
              <td>
                {signed(lowMm)} … {signed(highMm)}
              </td>
              <td>{formatNumber(sigmaMm * 1000, 3)}</td>
              <td>{formatNumber(share * 100, 2)} %</td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className="chain-table">
        <caption className="label">{title}: what the chain comes to, mm</caption>
        <thead>
          <tr>
            <th scope="col">At</th>
            <th scope="col">Asked</th>
            <th scope="col">Worst case</th>
            <th scope="col">Mean ± 3 s</th>
            <th scope="col">Locks that hold it</th>
            <th scope="col">Simulated</th>
          </tr>
        </thead>
        <tbody>
          {outcomes.map(({ each, outcome }) => (
            <tr key={each.finding.id}>
              <th scope="row">{formatQuantity(each.temperatureC, '°C')}</th>
              <td>≥ {formatNumber(each.chain.limits.minMm ?? 0, 4)}</td>
              <td>{bandWords(outcome.worstCase)}</td>
              <td>{bandWords(outcome.statistical)}</td>
              <td>{yieldWords(outcome.yield)}</td>
              <td>{yieldWords(outcome.simulated.yield)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const bandWords = ({ minMm, maxMm }: { minMm: number; maxMm: number }) =>
  `${formatFixed(minMm, 3)} … ${formatFixed(maxMm, 3)}`

const signed = (valueMm: number) => `${valueMm > 0 ? '+' : ''}${formatFixed(valueMm * 1000 + 0, 0)}`
