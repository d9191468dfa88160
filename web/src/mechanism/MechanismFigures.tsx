import { formatNumber } from '@haspwright/engine'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { offWords } from './differs.ts'
import { codesWords, mechanismSentence, ruleWords, surelyWords } from './figure-words.ts'
import type { Mechanism } from './use-mechanism.ts'

/** What the mechanism comes to: the sentence first, then how often which key opens, and how many codes there are. */
export function MechanismFigures({ mechanism }: { mechanism: Mechanism }) {
  const { shown, ownOpens, otherOpens, nearest, chosenOpens, differences, differs, isCounted } = mechanism
  const { ownKey, interchange } = shown.requirements
  const ownHolds = ownOpens >= ownKey.limit
  const othersHold = otherOpens <= interchange.limit
  const { verdict, head, words } = mechanismSentence(mechanism)
  return (
    <>
      <p className="sentence" data-verdict={verdict}>
        <strong>{head}</strong> {words}
      </p>
      <section className="figure-row" aria-label="Figures of the mechanism">
        <Figure
          title="Own key opens"
          value={surelyWords(ownOpens)}
          under={`asked: at least ${surelyWords(ownKey.limit)}`}
          short={!ownHolds}
        />
        <Figure
          title="Nearest other key, rocked"
          value={formatNumber(otherOpens, 3)}
          under={`${offWords(nearest)} · asked: at most ${formatNumber(interchange.limit)}`}
          short={!othersHold}
        />
        <Figure title="Chosen key, at the stop" value={chanceWords(chosenOpens.steady)} under={offWords(differences)} />
        <Figure title="Chosen key, rocked" value={chanceWords(chosenOpens.rocked)} under={offWords(differences)} />
        <Figure
          title="Usable codes"
          value={differs === undefined ? '…' : codesWords(differs.usable)}
          under={differs === undefined ? 'being counted' : `of ${codesWords(differs.total)} in all`}
          waiting={!isCounted}
        />
        <Figure
          title="Separated codes"
          value={differs === undefined ? '…' : codesWords(differs.separated)}
          under={
            differs === undefined
              ? 'being counted'
              : `${ruleWords(differs)} · asked: at least ${formatNumber(shown.requirements.differs.limit, 6)}`
          }
          waiting={!isCounted}
          short={
            differs !== undefined && BigInt(differs.separated) < BigInt(Math.ceil(shown.requirements.differs.limit))
          }
        />
      </section>
      {mechanism.refused.length > 0 ? <IssueList issues={mechanism.refused} title="Codes cannot be counted" /> : null}
      {mechanism.fault === undefined ? null : (
        <p className="short" role="alert">
          The codes could not be counted: {mechanism.fault}. A fault of ours, not yours; change a figure to try again.
        </p>
      )}
      <NoticeList notices={mechanism.notices} />
    </>
  )
}

const chanceWords = (probability: number) =>
  probability > 0.999 ? surelyWords(probability) : formatNumber(probability, 3)

function Figure({
  title,
  value,
  under,
  short = false,
  waiting = false,
}: {
  title: string
  value: string
  under: string
  short?: boolean
  /** Still of the figures before. */
  waiting?: boolean
}) {
  return (
    <div
      className="figure-cell"
      aria-busy={waiting}
      data-short={short || undefined}
      data-waiting={waiting || undefined}
    >
      <p className="label quiet">{title}</p>
      <p className="figure-value">{value}</p>
      <p className="small quiet">
        {short ? <span className="short">falls short · </span> : null}
        {under}
      </p>
    </div>
  )
}
