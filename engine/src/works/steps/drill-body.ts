import { drill } from '../../body/drill.ts'
import { movingMachinery } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { cuttingClassOf } from '../../materials/part-materials.ts'
import { ask, settingFrom } from '../ask.ts'
import { boresOf, gaugesOfBores, type NamedBore, sizesOfBores } from '../bores.ts'
import { chainFinding, wallChains } from '../chains.ts'
import { limitsOf } from '../dimension.ts'
import type { Setting } from '../plan.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Drills the bores to the size before plating; walls are judged on finished sizes. */
export const drillBody: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const drilled = boresOf(design).map((named) => ({ named, asked: drillFor(context, named) }))
  const machining = drilled.reduce<number | null>(
    (total, { asked, named }) => (total === null || !asked.ok ? null : total + asked.output.minutes * named.count),
    0,
  )
  return {
    instruction:
      'Drill barrel bore, shackle bores, cross bore, in this order, to the size before plating; gauge each bore, break the edges.',
    settings: drilled.flatMap(({ named, asked }): Setting[] => [
      settingFrom(asked, {
        title: `${named.name}, speed`,
        unit: '1/min',
        pick: ({ spindleRpm }) => Math.round(spindleRpm),
      }),
      settingFrom(asked, { title: `${named.name}, feed`, unit: 'mm', pick: ({ feedMmPerRev }) => feedMmPerRev }),
      settingFrom(asked, { title: `${named.name}, time`, unit: 'min', pick: ({ minutes }) => minutes }),
    ]),
    sizes: sizesOfBores(design),
    gauges: gaugesOfBores(design),
    time:
      machining === null
        ? handTime(minutesPerPiece, 'locks')
        : { minutes: machining + (minutesPerPiece ?? 0), per: 'piece', of: 'locks' },
    record: [
      'Every bore: go in, no-go out, first piece and every 25th',
      'Drift of the shackle bores at depth, first piece',
    ],
    cautions: [movingMachinery],
    findings: [...wallFindings(context), ...powerFindings(context, drilled)],
  }
}

type Drilled = ReturnType<typeof drillFor>

function drillFor({ design, works }: StepContext, { bore }: NamedBore) {
  const { minMm, maxMm } = limitsOf(bore.diameter)
  const material = cuttingClassOf(design.body.material)
  if (material === undefined)
    return { ok: false, because: `No cutting data are known for ${design.body.material}.` } as const
  return ask(drill, {
    material,
    tool: works.drill.tool,
    diameterMm: (minMm + maxMm) / 2,
    depthMm: bore.depthMm,
    maxRpm: works.drill.maxRpm,
  })
}

function wallFindings(context: StepContext): Finding[] {
  const { design } = context
  const { wallMm } = design.requirements
  return wallChains(design).map(({ key, title, chain }) =>
    chainFinding(
      requirementOf(context, 'drill-body', `wall-${key}`, {
        title,
        sense: 'at-least',
        limit: wallMm.limit,
        unit: 'mm',
        decimals: 2,
        reference: Math.max(wallMm.limit, 0.1),
        consequence: 'the wall may break through or bulge',
        askedBy: wallMm.askedBy,
      }),
      chain,
      { key: 'room', temperatureC: 20 },
      design,
    ),
  )
}

function powerFindings(context: StepContext, drilled: readonly { named: NamedBore; asked: Drilled }[]): Finding[] {
  const requirement = requirementOf(context, 'drill-body', 'power', {
    title: 'Spindle power for the hardest bore',
    sense: 'at-most',
    limit: context.works.drill.powerKw,
    unit: 'kW',
    consequence: 'the spindle stalls',
    askedBy: 'Drilling machine of the works',
  })
  const failed = drilled.find(({ asked }) => !asked.ok)
  if (failed !== undefined) return [unknown(requirement, failed.asked.ok ? '' : failed.asked.because)]
  const [hardest] = drilled
    .flatMap(({ named, asked }) => (asked.ok ? [{ named, asked }] : []))
    .sort((a, b) => b.asked.output.powerKw - a.asked.output.powerKw)
  if (hardest === undefined) return []
  return [
    finding(requirement, {
      predicted: { value: hardest.asked.output.powerKw },
      evidence: hardest.asked.evidence,
      remedy: `Drill the ${hardest.named.name.toLowerCase()} in two steps, or at a lower feed.`,
    }),
  ]
}
