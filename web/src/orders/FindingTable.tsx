import { type Finding, gapWords, limitWords, predictedWords } from '@haspwright/engine'

const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const

/** What this step answers for, in figures and words: the sheet's own copy of its margins, for paper too. */
export function FindingTable({
  findings,
  onOpen,
}: {
  findings: readonly Finding[]
  onOpen: (finding: Finding) => void
}) {
  if (findings.length === 0) return null
  return (
    <section className="sheet-part">
      <h3>Must hold</h3>
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">Requirement</th>
            <th scope="col" className="right">
              Expected
            </th>
            <th scope="col" className="right">
              Asked
            </th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {findings.map((finding) => (
            <tr key={finding.id}>
              <td>
                <button type="button" className="text-button" onClick={() => onOpen(finding)}>
                  {finding.title}
                </button>
              </td>
              <td className="figure right">{predictedWords(finding)}</td>
              <td className="figure right">{limitWords(finding)}</td>
              <td className={finding.verdict === 'falls-short' ? 'short' : ''}>
                {VERDICTS[finding.verdict]}
                {finding.verdict === 'falls-short' ? <small> {gapWords(finding)}</small> : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
