import { chain } from './body/chain.ts'
import { chainRemedy } from './body/chain-remedy.ts'
import { chainSimulation } from './body/chain-simulation.ts'
import { cutPlan } from './body/cut-plan.ts'
import { drill } from './body/drill.ts'
import { fit } from './body/fit.ts'
import { gauge } from './body/gauge.ts'
import { lockYield } from './body/lock-yield.ts'
import { saw } from './body/saw.ts'
import type { AnyCalculation } from './calculation.ts'
import { chart } from './codes/chart/chart.ts'
import { checkDigit } from './codes/check-digit.ts'
import { encipher } from './codes/encipher.ts'
import { issue } from './codes/issue.ts'
import { rank } from './codes/rank.ts'
import { separate } from './codes/separate.ts'
import { space } from './codes/space.ts'
import { unrank } from './codes/unrank.ts'
import { bath } from './finish/bath.ts'
import { bathAdditions } from './finish/bath-additions.ts'
import { cleaning } from './finish/cleaning.ts'
import { compareCoatings } from './finish/compare-coatings.ts'
import { deposit } from './finish/deposit.ts'
import { coatingDesignation } from './finish/designation.ts'
import { currentDistribution } from './finish/distribution/current-distribution.ts'
import { platingLoad } from './finish/load.ts'
import { reliefBake } from './finish/relief-bake.ts'
import { rinse } from './finish/rinse.ts'
import { serviceCondition } from './finish/service-condition.ts'
import { stressRelief } from './finish/stress-relief.ts'
import { throwingPower } from './finish/throwing-power.ts'
import { mixedTimetable } from './finish/timetable/mixed.ts'
import { timetableRemedies } from './finish/timetable/remedies.ts'
import { timetable } from './finish/timetable/timetable.ts'
import { asQuenched } from './heat/as-quenched.ts'
import { austenitize } from './heat/austenitize.ts'
import { chargeHeat } from './heat/charge-heat.ts'
import { chargePlan } from './heat/charge-plan.ts'
import { checkAnalysis } from './heat/check-analysis.ts'
import { coldToughness } from './heat/cold-toughness.ts'
import { convertHardness } from './heat/convert-hardness.ts'
import { criticalPoints } from './heat/critical-points.ts'
import { cylinderTransient } from './heat/cylinder-transient.ts'
import { equivalentJominy } from './heat/equivalent-jominy.ts'
import { furnaceRecord } from './heat/furnace-record.ts'
import { hardenability } from './heat/hardenability.ts'
import { furnaceLoad } from './heat/load.ts'
import { quenchDelay } from './heat/quench-delay.ts'
import { quenchSection } from './heat/quench-section.ts'
import { temper } from './heat/temper.ts'
import { temperFor } from './heat/temper-for.ts'
import { temperSection } from './heat/temper-section.ts'
import { throughHeating } from './heat/through-heating.ts'
import { asBuilt } from './mechanism/as-built.ts'
import { differs } from './mechanism/differs.ts'
import { interchange } from './mechanism/interchange.ts'
import { acceptance } from './proving/acceptance.ts'
import { confidence } from './proving/confidence.ts'
import { samplingPlan } from './proving/sampling-plan.ts'
import { zeroFailureSample } from './proving/zero-failure-sample.ts'
import { bendLimit } from './shackle/bend-limit.ts'
import { blank } from './shackle/blank.ts'
import { cutStrength } from './shackle/cut-strength.ts'
import { overBend } from './shackle/over-bend.ts'
import { pressForce } from './shackle/press-force.ts'
import { pullStrength } from './shackle/pull-strength.ts'
import { springback } from './shackle/springback.ts'
import { toeEntry } from './shackle/toe-entry.ts'
import { twistStrength } from './shackle/twist-strength.ts'

/** The one list. Adding a calculation is one file and one line here. */
export const calculations: readonly AnyCalculation[] = [
  chain,
  chainRemedy,
  chainSimulation,
  lockYield,
  cutPlan,
  fit,
  saw,
  gauge,
  drill,
  deposit,
  interchange,
  separate,
  differs,
  asBuilt,
  checkDigit,
  issue,
  chart,
  encipher,
  unrank,
  rank,
  space,
  criticalPoints,
  convertHardness,
  temper,
  temperFor,
  austenitize,
  asQuenched,
  furnaceLoad,
  cylinderTransient,
  throughHeating,
  equivalentJominy,
  quenchDelay,
  quenchSection,
  temperSection,
  coldToughness,
  furnaceRecord,
  chargePlan,
  chargeHeat,
  checkAnalysis,
  rinse,
  reliefBake,
  stressRelief,
  serviceCondition,
  coatingDesignation,
  compareCoatings,
  bath,
  bathAdditions,
  currentDistribution,
  throwingPower,
  timetable,
  timetableRemedies,
  mixedTimetable,
  platingLoad,
  cleaning,
  samplingPlan,
  acceptance,
  confidence,
  zeroFailureSample,
  hardenability,
  blank,
  springback,
  bendLimit,
  overBend,
  toeEntry,
  pullStrength,
  pressForce,
  cutStrength,
  twistStrength,
]

/** The calculation of that id, or `undefined`. */
export function calculationById(id: string): AnyCalculation | undefined {
  return calculations.find((calculation) => calculation.id === id)
}
