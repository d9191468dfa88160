import type { Report } from '../calculation.ts'
import { type Refusal, refuse } from '../issue.ts'
import {
  AGITATIONS,
  type Agitation,
  QUENCH_MEDIA,
  type QuenchMedium,
  severityOf,
} from '../materials/quench-severity.ts'
import { choice, quantity } from '../quantity.ts'

/** How a calculation asks for a quench bath. */
export const quenchFields = {
  medium: choice('Bath', QUENCH_MEDIA, {
    oil: 'Quench oil',
    water: 'Water',
    brine: 'Brine',
    polymer: 'Polymer in water',
    'salt bath': 'Salt bath',
  }),
  agitation: choice('Agitation of bath and part', AGITATIONS, {
    none: 'None',
    mild: 'Mild',
    moderate: 'Moderate',
    good: 'Good',
    strong: 'Strong',
    violent: 'Violent',
  }),
  severityPerInch: quantity('H', '1/in', 'Severity of quench, where it was measured', {
    min: 0.1,
    max: 10,
    trusted: [0.2, 5],
    help: 'Per inch, as tables give it; a value per millimetre times 25.4. Overrides the table',
  }).optional(),
}

/** The severity per inch of the bath asked for; the measured one where it is given. */
export function severityAsked(
  {
    medium,
    agitation,
    severityPerInch,
  }: { medium: QuenchMedium; agitation: Agitation; severityPerInch?: number | undefined },
  report: Report,
): number | Refusal {
  if (severityPerInch !== undefined) return severityPerInch
  const severity = severityOf(medium, agitation)
  if (severity === undefined) {
    const known = AGITATIONS.filter((degree) => severityOf(medium, degree) !== undefined)
    return refuse({
      path: 'agitation',
      code: 'not-found',
      message: `No table at hand gives the severity of ${medium} at this agitation. Choose another, or state the measured severity.`,
      value: agitation,
      allowed: known.length === 0 ? 'a measured severity' : known.join(', '),
    })
  }
  if (severity.source.status === 'from memory (unverified)')
    report.notice(
      `The severity ${severity.perInch}/in of ${medium}, agitation ${agitation}, is from memory: confirm it.`,
    )
  return severity.perInch
}
