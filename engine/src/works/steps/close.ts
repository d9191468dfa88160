import { sealingIsFinal } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { stated } from '../ask.ts'
import { chainFinding } from '../chains/chain-finding.ts'
import type { ChainCase } from '../chains/chain-terms.ts'
import { barrelClearanceChain, fitChains, legClearanceChain } from '../chains/clearance-chains.ts'
import { type Climate, climatesOf, climateWords } from '../chains/climate.ts'
import { releaseChain } from '../chains/detent-chains.ts'
import { lockYieldOf } from '../lock-yield.ts'
import type { Setting } from '../plan.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Puts shackle, balls and barrel together and seals the lock: after this nothing can be changed. */
export const close: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const { requirements } = design
  const clearance =
    (key: string, title: string, asked: { limit: number; askedBy: string }, consequence: string, chain: ChainCase) =>
    (climate: Climate) =>
      clearanceFinding(context, { key, title, asked, consequence, chain, climate })
  const climates = climatesOf(design)
  return {
    instruction:
      'Shackle in, balls through the cross bore, barrel home, own key tried again, then press the cover in. Only locks marked as tried are sealed.',
    settings: [
      stated('Balls', 2, ''),
      stated('Ball diameter', design.ball.diameter.nominalMm, 'mm'),
      lockYieldSetting(design),
      stated('Before sealing', 'own key opens and locks three times; every key on the try list fails', ''),
    ],
    time: handTime(minutesPerPiece, 'locks'),
    record: ['Own key opens and locks', 'Try-list keys refused', 'Sealed by, at'],
    cautions: [sealingIsFinal],
    findings: [
      ...climates.map(
        clearance(
          'release',
          'Release clearance',
          requirements.releaseClearanceMm,
          'the ball cannot sink clear of the leg and the shackle drags',
          releaseChain(design),
        ),
      ),
      ...climates.map(
        clearance(
          'leg',
          'Clearance of the leg in its bore',
          requirements.legClearanceMm,
          'the leg sticks in its bore',
          legClearanceChain(design),
        ),
      ),
      ...climates.map(
        clearance(
          'barrel',
          'Clearance of the barrel in its bore',
          requirements.barrelClearanceMm,
          'the barrel turns hard or seizes',
          barrelClearanceChain(design),
        ),
      ),
      ...fitChains(design).flatMap(({ fit, chain }, i) =>
        climates.map(
          clearance(`fit-${i + 1}`, `Clearance, ${fit.name.toLowerCase()}`, fit.clearanceMm, 'the parts bind', chain),
        ),
      ),
      ...lockYieldFindings(context),
    ],
  }
}

function clearanceFinding(
  context: StepContext,
  {
    key,
    title,
    asked,
    consequence,
    chain,
    climate,
  }: {
    key: string
    title: string
    asked: { limit: number; askedBy: string }
    consequence: string
    chain: ChainCase
    climate: Climate
  },
) {
  return chainFinding(
    requirementOf(context, 'close', `${key}-${climate.key}`, {
      title: `${title} ${climateWords(climate)}`,
      sense: 'at-least',
      limit: asked.limit,
      unit: 'mm',
      decimals: 3,
      reference: Math.max(asked.limit, 0.01),
      consequence,
      askedBy: asked.askedBy,
    }),
    chain,
    climate,
    context.design,
  )
}

const LOCKS_TITLE = 'Locks with every chain inside its limits'

function lockYieldSetting(design: StepContext['design']): Setting {
  const drawn = lockYieldOf(design)
  return drawn.ok
    ? { title: LOCKS_TITLE, value: drawn.percent.value, unit: '%', evidence: drawn.evidence }
    : { title: LOCKS_TITLE, value: null, unit: '%', because: drawn.because }
}

function lockYieldFindings(context: StepContext): Finding[] {
  const asked = context.design.requirements.lockYieldPercent
  if (asked === undefined) return []
  const requirement = requirementOf(context, 'close', 'lock-yield', {
    title: LOCKS_TITLE,
    sense: 'at-least',
    limit: asked.limit,
    unit: '%',
    scale: 'missing-share',
    consequence: 'locks of good parts do not go together, or leave a limit in the cold or heat',
    askedBy: asked.askedBy,
  })
  const drawn = lockYieldOf(context.design)
  if (!drawn.ok) return [unknown(requirement, drawn.because)]
  return [
    finding(requirement, {
      predicted: drawn.percent,
      evidence: drawn.evidence,
      remedy: `Mend first: ${drawn.worst}.`,
    }),
  ]
}
