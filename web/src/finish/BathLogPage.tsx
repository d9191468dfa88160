import { acidPickle, hexavalentChromium, nickelSalts, trivalentChromium } from '@haspwright/engine'
import { getRouteApi, Link } from '@tanstack/react-router'
import { useState } from 'react'
import { Button, FileTrigger } from 'react-aria-components'
import { useWorks } from '../api/works.ts'
import { CalculationLink } from '../evidence/CalculationLink.tsx'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { CautionList } from '../sheet/CautionList.tsx'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { BathPlot } from './BathPlot.tsx'
import { BATH_KINDS, BATHS, type BathKindName, type Followed, followedOf, titleOf, unitOf } from './bath-kinds.ts'
import { bandOf, bathSentence, figureOf, standing } from './bath-log.ts'
import { type BathLog, useBathLog } from './use-bath-log.ts'
import '../orders/order-page.css'
import '../orders/operation-sheet.css'
import './finish.css'
import './parts.css'
import './bath-log.css'

const STANDING = { within: 'within', under: 'too low', over: 'too high' } as const

const CAUTIONS = {
  nickel: [nickelSalts, acidPickle],
  'chromium(III)': [trivalentChromium, acidPickle],
  'chromium(VI)': [hexavalentChromium, acidPickle],
} as const
const route = getRouteApi('/bath-log')

/** The log of a bath: analyses by day, what to add, how it moves. */
export function BathLogPage() {
  usePageTitle('Bath log')
  const { bath = 'nickel' } = route.useSearch()
  const works = useWorks()
  return <BathLogSheet key={`${bath} ${works.isPending}`} name={bath} works={works.data?.content} />
}

function BathLogSheet({ name, works }: { name: BathKindName; works: Parameters<typeof useBathLog>[1] }) {
  const bath = useBathLog(name, works, new Date().toISOString().slice(0, 10))
  const { kind } = bath
  const { log, limits, result, last, refused, isSaved, take, csv } = bath
  const [shown, setShown] = useState<Followed>(kind.substances[0]?.name ?? 'ampereHours')
  const sentence = result === undefined ? undefined : bathSentence(kind, result.additions)
  return (
    <div className="page plating-page bath-page">
      <h1 className="title-line">
        Bath log, {kind.title}
        <small>
          {log.length === 0
            ? 'no analysis yet'
            : log.length === 1
              ? 'one analysis'
              : `${log.length} analyses, last of ${last?.date}`}
        </small>
      </h1>
      <p className="sentence" data-verdict={sentence?.verdict ?? 'not-known'} aria-live="polite">
        {sentence === undefined ? (
          <>
            <strong>Nothing is known of the bath yet:</strong> enter an analysis, or open a log that was saved.
          </>
        ) : (
          <>
            <strong>{sentence.headline}:</strong> {sentence.detail}
          </>
        )}
      </p>
      <p className="small quiet not-stated">
        The log is not stored anywhere: it is gone when this page is loaded anew or shut. Save it as a file and open it
        again next time; the works’ register will keep it later.
      </p>
      <CautionList cautions={CAUTIONS[name]} />
      <nav className="choices screen-only" aria-label="Baths">
        {BATH_KINDS.map((each) => (
          <Link
            key={each}
            to="/bath-log"
            search={each === 'nickel' ? {} : { bath: each }}
            className="tap"
            {...(each === name ? { 'aria-current': 'page' as const } : {})}
          >
            {BATHS[each].title}
          </Link>
        ))}
      </nav>
      <div className="bath-actions screen-only">
        <FileTrigger
          acceptedFileTypes={['text/csv', '.csv', 'text/plain']}
          onSelect={(files) => {
            const file = files?.[0]
            if (file !== undefined) void take(file)
          }}
        >
          <Button className="button">Open a saved log</Button>
        </FileTrigger>
        <button type="button" className="button" disabled={log.length === 0} onClick={() => save(csv(), name)}>
          Save the log as CSV
        </button>
        <span className="small quiet">{log.length === 0 ? '' : isSaved ? 'saved as it stands' : 'not saved yet'}</span>
      </div>
      {refused.length === 0 ? null : (
        <IssueList
          issues={refused.slice(0, 12)}
          title={
            refused.length === 1
              ? 'One thing in the file cannot be read; nothing was taken over'
              : `${refused.length} things in the file cannot be read; nothing was taken over`
          }
        />
      )}
      <NewAnalysis bath={bath} />
      {limits === undefined || log.length === 0 ? null : (
        <>
          <section className="finish-part" aria-labelledby="bath-time">
            <div className="section-head">
              <h2 id="bath-time">Over time</h2>
              <small>hatched: where it is kept; a square is outside</small>
            </div>
            <fieldset className="choices screen-only">
              <legend className="visually-hidden">Figure shown</legend>
              {followedOf(kind).map((each) => (
                <label key={each} className="tap">
                  <input type="radio" name="followed" checked={shown === each} onChange={() => setShown(each)} />{' '}
                  {titleOf(kind, each)}
                </label>
              ))}
            </fieldset>
            <BathPlot kind={kind} log={log} limits={limits} name={shown} />
          </section>
          <Additions bath={bath} />
          <Analyses bath={bath} />
        </>
      )}
      <FormContext value={bath.limitsForm}>
        <section className="finish-part" aria-labelledby="bath-limits">
          <div className="section-head">
            <h2 id="bath-limits">The bath and its limits</h2>
            <small>
              {bath.statedBy === undefined
                ? 'common practice (no source): the supplier’s sheet decides'
                : `targets and additive as the works file states them (${bath.statedBy}); volume, limits and pH common practice (no source)`}
            </small>
          </div>
          <div className="bath-limits">
            {bath.models.limits.kind === 'group'
              ? bath.models.limits.fields.map((field) => (
                  <Field key={field.name} model={field} draft={bath.limitsDraft[field.name]} path={[field.name]} />
                ))
              : null}
          </div>
        </section>
      </FormContext>
      <TitleBlock
        cells={[
          ['sheet', 'bath log'],
          ['bath', kind.title],
          ['analyses', String(log.length)],
          ['at', 'plating line'],
        ]}
      />
    </div>
  )
}

function NewAnalysis({ bath: { analysisForm, models, typed, enter } }: { bath: BathLog }) {
  return (
    <FormContext value={analysisForm}>
      <form
        className="finish-part screen-only"
        aria-labelledby="new-analysis"
        onSubmit={(event) => {
          event.preventDefault()
          enter()
        }}
      >
        <div className="section-head">
          <h2 id="new-analysis">New analysis</h2>
          <small>what was not analysed stays empty; a day entered again replaces the old line</small>
        </div>
        <div className="analysis-fields">
          {models.analysis.kind === 'group'
            ? models.analysis.fields.map((field) => (
                <Field key={field.name} model={field} draft={typed[field.name]} path={[field.name]} />
              ))
            : null}
        </div>
        <p>
          <button type="submit" className="button primary">
            Enter the analysis
          </button>
        </p>
      </form>
    </FormContext>
  )
}

function Additions({ bath: { kind, result, last } }: { bath: BathLog }) {
  if (result === undefined || last === undefined) return null
  return (
    <section className="finish-part" aria-labelledby="additions">
      <div className="section-head">
        <h2 id="additions">To do after the analysis of {last.date}</h2>
        <small>additions bring each substance back to its target</small>
      </div>
      {result.because === undefined ? null : <p className="short">{result.because}</p>}
      <table className="sheet-table additions-table">
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col" className="right">
              Measured
            </th>
            <th scope="col">Against its limits</th>
            <th scope="col">To do</th>
          </tr>
        </thead>
        <tbody>
          {result.additions.map(({ name, value, standing: where, remedy }) => (
            <tr key={name}>
              <th scope="row">{titleOf(kind, name)}</th>
              <td className="figure right">{figureOf(name, value)}</td>
              <td className={`verdict-cell ${where === 'within' ? 'holds' : 'falls-short'}`}>
                <i aria-hidden="true" /> {STANDING[where]}
              </td>
              <td>{remedy ?? 'nothing'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <NoticeList notices={result.notices} />
      <CalculationLink id="finish.bath-additions" input={result.input} />
    </section>
  )
}

function Analyses({ bath: { kind, log, limits, strike } }: { bath: BathLog }) {
  if (limits === undefined) return null
  return (
    <section className="finish-part" aria-labelledby="analyses">
      <div className="section-head">
        <h2 id="analyses">All analyses</h2>
        <small>latest first</small>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard */}
      <section className="table-scroll" tabIndex={0} aria-label="Analyses of the bath">
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">Day</th>
              {followedOf(kind).map((name) => (
                <th key={name} scope="col" className="right">
                  {titleOf(kind, name)} <small>{unitOf(name)}</small>
                </th>
              ))}
              <th scope="col">Note</th>
              <th scope="col" className="screen-only">
                <span className="visually-hidden">Strike out</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {[...log].reverse().map((analysis) => (
              <tr key={analysis.date}>
                <th scope="row" className="figure">
                  {analysis.date}
                </th>
                {followedOf(kind).map((name) => {
                  const value = analysis[name]
                  const where = value === undefined ? 'within' : standing(value, bandOf(limits, name))
                  return (
                    <td key={name} className={where === 'within' ? 'figure right' : 'figure right short'}>
                      {value === undefined ? '—' : figureOf(name, value).split('\u202f')[0]}
                      {where === 'within' ? null : <small>{STANDING[where]}</small>}
                    </td>
                  )
                })}
                <td className="small">{analysis.note ?? ''}</td>
                <td className="right screen-only">
                  <button type="button" className="text-button small" onClick={() => strike(analysis.date)}>
                    Strike out<span className="visually-hidden"> {analysis.date}</span>
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  )
}

/** Hands a text to the browser as a file. */
function save(text: string, name: BathKindName): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/csv;charset=utf-8' }))
  const link = document.createElement('a')
  link.href = address
  link.download = `bath-log-${name.replace(/\W/g, '-').replace(/-$/, '')}.csv`
  link.click()
  URL.revokeObjectURL(address)
}
