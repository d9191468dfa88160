import { asQuenched } from '../heat/as-quenched.ts'
import { austenitize } from '../heat/austenitize.ts'
import { criticalPoints } from '../heat/critical-points.ts'
import { quenchDelay } from '../heat/quench-delay.ts'
import { quenchSection } from '../heat/quench-section.ts'
import { temperSection } from '../heat/temper-section.ts'
import { steels } from '../materials/steels.ts'
import { ask } from './ask.ts'
import type { BarHeat } from './bar-heat.ts'
import type { Design } from './design.ts'

/** How the shackle answers to its treatment when it is cut from one heat of steel; without a certificate, from the middle of its range. */
export function heatCase({ shackle, heat }: Design, barHeat: BarHeat | undefined) {
  const { steel, barDiameter } = shackle
  const diameterMm = barDiameter.nominalMm
  const own = barHeat === undefined ? {} : { composition: barHeat.analysis }
  const analysis = barHeat?.analysis ?? steels[steel].midAnalysis
  const quench = { steel, ...own, diameterMm, medium: heat.quenchant, agitation: heat.agitation }
  const window = ask(austenitize, { steel, ...own, sectionMm: diameterMm })
  return {
    barHeat,
    points: ask(criticalPoints, { composition: analysis }),
    window,
    quenched: ask(asQuenched, { composition: analysis, bathC: heat.bathC }),
    section: ask(quenchSection, quench),
    tempered: ask(temperSection, { ...quench, temperatureC: heat.temperC, minutes: heat.temperMinutes }),
    delay: window.ok
      ? ask(quenchDelay, { sectionMm: diameterMm, startC: window.output.setC, endC: window.output.ac3C })
      : window,
  }
}
export type HeatCase = ReturnType<typeof heatCase>

/** One case for each heat at hand; the middle of the range where there is none. */
export function heatCases(design: Design, barHeats: readonly BarHeat[]): readonly HeatCase[] {
  return barHeats.length === 0 ? [heatCase(design, undefined)] : barHeats.map((own) => heatCase(design, own))
}
