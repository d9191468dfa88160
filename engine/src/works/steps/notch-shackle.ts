import { movingMachinery } from '../../caution.ts'
import { notKnown, stated } from '../ask.ts'
import { chainFinding } from '../chains/chain-finding.ts'
import { climatesOf, climateWords } from '../chains/climate.ts'
import { engagementChain, jamChain } from '../chains/detent-chains.ts'
import { limitsOf } from '../dimension.ts'
import { programFile } from '../machining/machining-job.ts'
import { notchCutter, notchingJob } from '../machining/notching-job.ts'
import { handTime, requirementOf, type StepPlanner } from './step.ts'

/** Mills the notches that the balls lock into: how deep they reach decides what the lock holds. */
export const notchShackle: StepPlanner = (context) => {
  const { design, works, minutesPerPiece } = context
  const cutter = notchCutter(design, works)
  const job = notchingJob(design, works)
  const { shackle, requirements, ball } = design
  const { notch } = shackle
  const both = notch.legs === 'both'
  const engagementMm = requirements.engagementShareOfBall.limit * ball.diameter.nominalMm
  return {
    instruction: `Mill ${both ? 'a notch into the inside of each leg' : 'the notch into the inside of the toe leg'}, square to the plane of the shackle.`,
    settings: [
      job.ok ? stated('Program, if its check let it pass', programFile(job.job)) : notKnown('Program', '', job.because),
      stated('Cutter speed', cutter.spindleRpm, '1/min'),
      stated('Cutter feed', cutter.feedMmPerMin, 'mm/min'),
      stated('Cutter diameter', notch.cutterDiameterMm, 'mm'),
      stated('Notch depth from the leg surface', notch.depth.nominalMm, 'mm'),
      stated('Toe notch centre from the toe end', notch.fromToeEndMm, 'mm'),
      ...(both
        ? [
            stated(
              'Heel notch centre from the heel end',
              notch.fromToeEndMm + shackle.heelLegMm - shackle.toeLegMm,
              'mm',
            ),
          ]
        : []),
    ],
    sizes: [
      {
        feature: 'Notch depth',
        beforePlatingMm: limitsOf(notch.depth),
        finishedMm: limitsOf(notch.depth),
        because: 'Leg and notch floor are plated alike, so the depth stays.',
      },
    ],
    time: handTime(minutesPerPiece, 'locks'),
    record: [
      'Program run dry over the part, then in single block, by',
      'Notch depth, both legs, first and every 25th piece',
      'Notch centre from the toe end',
    ],
    cautions: [movingMachinery],
    findings: [
      ...climatesOf(design).map((climate) =>
        chainFinding(
          requirementOf(context, 'notch-shackle', `engagement-${climate.key}`, {
            title: `Locked engagement ${climateWords(climate)}`,
            sense: 'at-least',
            limit: engagementMm,
            unit: 'mm',
            decimals: 3,
            consequence: 'the ball holds the leg by too little and a pull may wedge it out',
            askedBy: `${requirements.engagementShareOfBall.limit} of the ball diameter: ${requirements.engagementShareOfBall.askedBy}`,
          }),
          engagementChain(design),
          climate,
          design,
        ),
      ),
      ...climatesOf(design).map((climate) =>
        chainFinding(
          requirementOf(context, 'notch-shackle', `jam-${climate.key}`, {
            title: `Jam clearance ${climateWords(climate)}`,
            sense: 'at-least',
            limit: requirements.jamClearanceMm.limit,
            unit: 'mm',
            decimals: 3,
            reference: Math.max(requirements.jamClearanceMm.limit, 0.01),
            consequence: 'the ball bottoms in the notch and the barrel binds',
            askedBy: requirements.jamClearanceMm.askedBy,
          }),
          jamChain(design),
          climate,
          design,
        ),
      ),
    ],
  }
}
