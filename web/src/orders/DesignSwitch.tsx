import type { Design, Finding } from '@haspwright/engine'
import { Radio, RadioGroup } from 'react-aria-components'

/** Which of an order's designs the route shows. Absent where there is only one. */
export function DesignSwitch({
  designs,
  findings,
  selected,
  onSelect,
}: {
  designs: readonly Design[]
  findings: readonly Finding[]
  selected: string
  onSelect: (id: string) => void
}) {
  if (designs.length < 2) return null
  return (
    <RadioGroup
      className="design-switch screen-only"
      aria-label="Design"
      orientation="horizontal"
      value={selected}
      onChange={onSelect}
    >
      {designs.map(({ id, title }) => {
        const short = findings.filter(
          (finding) => finding.operation.startsWith(`${id}/`) && finding.verdict === 'falls-short',
        ).length
        return (
          <Radio key={id} value={id} className="design-choice">
            {title} <span className="quiet">{id}</span>
            {short > 0 ? <span className="short"> {short} short</span> : null}
          </Radio>
        )
      })}
    </RadioGroup>
  )
}
