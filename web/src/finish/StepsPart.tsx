import { type Finding, gapWords, limitWords, type OperationPlan, predictedWords } from '@haspwright/engine'
import { SettingList } from '../orders/SettingList.tsx'

const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const

/** What the rectifiers are set to, and the bake after them: the plan's own settings, each with its working, and what they must hold. */
export function StepsPart({
  title,
  note,
  id,
  operations,
  findings,
}: {
  title: string
  note: string
  id: string
  operations: readonly OperationPlan[]
  findings: readonly Finding[]
}) {
  return (
    <section className="finish-part" aria-labelledby={id}>
      <div className="section-head">
        <h2 id={id}>{title}</h2>
        <small>{note}</small>
      </div>
      <div className="step-columns">
        {operations.map((operation) => (
          <section key={operation.id} className="sheet-part" aria-label={operation.title}>
            <h3>{operation.title}</h3>
            <p className="small quiet">{operation.instruction}</p>
            <SettingList settings={operation.settings} />
            <ul className="must-hold">
              {findings
                .filter((finding) => finding.operation === operation.id)
                .map((finding) => (
                  <li key={finding.id} className={`verdict-cell ${finding.verdict}`}>
                    <i aria-hidden="true" />
                    <span>
                      {finding.title}
                      <small className="quiet">
                        {finding.unknownBecause ?? `${predictedWords(finding)}, asked ${limitWords(finding)}`}
                      </small>
                    </span>
                    <span className="verdict-words">
                      {VERDICTS[finding.verdict]}
                      {finding.verdict === 'not-known' ? '' : `, ${gapWords(finding)}`}
                    </span>
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </div>
    </section>
  )
}
