import { formatNumber } from '@haspwright/engine'
import { clock, cycleWords, stationName } from '@haspwright/papers/drawing'
import { CalculationLink } from '../evidence/CalculationLink.tsx'
import { FormContext } from '../fields/form-context.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { LineFigure } from './LineFigure.tsx'
import { LineFigures } from './LineFigures.tsx'
import { LineRemedies } from './LineRemedies.tsx'
import { RecipeTable } from './RecipeTable.tsx'
import type { TriedLine } from './use-line.ts'

/** The line and its carriers: drawn, timed, played, and what would shorten its cycle. */
export function LinePart({
  tried,
  isAssumed,
  locksOnRack,
}: {
  tried: TriedLine
  isAssumed: boolean
  locksOnRack: number | undefined
}) {
  const { picture, solved, line, form, isTyped, reset, transferAsked } = tried
  const report = solved.output
  return (
    <FormContext value={form}>
      <section className="finish-part" aria-labelledby="line" aria-busy={solved.isWorking}>
        <div className="section-head">
          <h2 id="line">The line and its carrier</h2>
          <small>
            <WorkState tried={tried} />
          </small>
        </div>
        <Troubles tried={tried} />
        <div className="line-columns">
          {picture === undefined || report === undefined || line === undefined ? (
            <p role="status" className="quiet line-waiting">
              {solved.isWorking ? 'Working out the timetable …' : 'No timetable yet.'}
            </p>
          ) : (
            <LineFigure
              picture={picture}
              slowestStation={report.slowestTank}
              words={`${cycleWords(line, report)} The table below gives every soak with its window.`}
            />
          )}
          <div className="line-side">
            {report === undefined || line === undefined ? null : (
              <>
                <dl className="facts-column">
                  <Fact
                    title="A rack every"
                    figure={`${clock(report.cycleS)} min`}
                    note={report.proven ? 'proven shortest' : `not under ${clock(report.lowerBoundS)} min`}
                  />
                  {locksOnRack === undefined ? null : (
                    <Fact
                      title="Locks an hour"
                      figure={formatNumber((3600 / report.cycleS) * locksOnRack, 3)}
                      note={`${locksOnRack} on a rack`}
                    />
                  )}
                  <Fact
                    title="Sets the pace"
                    figure={stationName(line, report.slowestTank)}
                    note={`alone ${clock(report.slowestTankS)} min a rack`}
                  />
                  <Fact
                    title="Carrier under way"
                    figure={`${formatNumber(report.carrierBusyPercent, 3)} %`}
                    note={`could do a rack every ${clock(report.carrierS)} min`}
                  />
                  <Fact
                    title="Racks on the line"
                    figure={String(report.loadsOnLine)}
                    note={`full after ${report.startUp.steadyAfterCycles} cycles, first one back after ${clock(report.startUp.firstOutS)} min`}
                  />
                </dl>
                {report.transfers.map(({ fromTank, toTank, takesS, maxS }) => {
                  const limitS = transferAsked?.limit ?? maxS
                  return (
                    <p key={`${fromTank} ${toTank}`} className={takesS <= limitS + 1e-6 ? '' : 'short'}>
                      From {stationName(line, fromTank)} to {stationName(line, toTank)} in{' '}
                      <span className="figure">{formatNumber(takesS, 3)} s</span>, at most{' '}
                      <span className="figure">{formatNumber(limitS, 3)} s</span>
                      {transferAsked === undefined ? '' : ` (${transferAsked.askedBy})`}: wet all the way, or the nickel
                      goes passive.
                    </p>
                  )
                })}
              </>
            )}
            <LineRemedies tried={tried} />
          </div>
        </div>
        <h3 className="finish-sub">The recipe, step by step</h3>
        <RecipeTable tried={tried} />
        <LineFigures tried={tried} isAssumed={isAssumed} />
        {isTyped ? (
          <button type="button" className="text-button small" onClick={reset}>
            Back to the plan’s line
          </button>
        ) : null}
        <NoticeList notices={solved.notices} />
        {solved.answered === undefined ? null : <CalculationLink id="finish.timetable" input={solved.answered} />}
      </section>
    </FormContext>
  )
}

function Fact({ title, figure, note }: { title: string; figure: string; note: string }) {
  return (
    <div>
      <dt>{title}</dt>
      <dd>
        <span className="figure">{figure}</span> <small className="quiet">{note}</small>
      </dd>
    </div>
  )
}

function WorkState({ tried: { solved } }: { tried: TriedLine }) {
  if (!solved.isWorking) return <>distance across, time down; under each tank its soak and its window</>
  return (
    <>
      Working out the timetable, {formatNumber(solved.share * 100, 2)} %{' '}
      <button type="button" className="text-button" onClick={solved.cancel}>
        Stop it
      </button>
    </>
  )
}

function Troubles({ tried: { issues, solved } }: { tried: TriedLine }) {
  return (
    <>
      {solved.fault === undefined ? null : (
        <p role="alert" className="short">
          The timetable could not be worked out, which is not your fault: {solved.fault}
        </p>
      )}
      {issues.length === 0 ? null : (
        <IssueList
          issues={issues.slice(0, 8)}
          title={
            issues.length === 1
              ? 'One thing keeps the line from being timed'
              : `${issues.length} things keep the line from being timed`
          }
        />
      )}
    </>
  )
}
