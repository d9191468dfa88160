import { movingMachinery } from '../../caution.ts'
import { formatFixed, formatNumber } from '../../display.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { notKnown, stated } from '../ask.ts'
import { type BorePass, type BorePasses, borePasses } from '../bore-passes.ts'
import { boresOf, gaugesOfBores, type NamedBore, sizesOfBores } from '../bores.ts'
import { chainFinding } from '../chains/chain-finding.ts'
import { wallChains } from '../chains/wall-chains.ts'
import { drillingJob } from '../machining/drilling-job.ts'
import { programFile } from '../machining/machining-job.ts'
import type { Setting } from '../plan.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Drills the bores to the size before plating; walls are judged on finished sizes. */
export const drillBody: StepPlanner = (context) => {
  const { design, works, minutesPerPiece } = context
  const made = boresOf(design).map((named) => ({ named, passes: borePasses(design, works, named) }))
  const machining = made.reduce<number | null>(
    (total, { passes, named }) =>
      total === null || !passes.ok
        ? null
        : total + named.count * passes.passes.reduce((minutes, pass) => minutes + pass.minutes, 0),
    0,
  )
  const job = drillingJob(design, works)
  return {
    instruction:
      'Shackle bores, barrel bore, cross bores, each spotted, drilled and where named reamed to the size before plating; gauge each bore, break the edges.',
    settings: [
      job.ok ? stated('Program, if its check let it pass', programFile(job.job)) : notKnown('Program', '', job.because),
      ...made.flatMap(({ named, passes }) =>
        passes.ok
          ? passes.passes.filter(({ kind }) => kind !== 'spot').flatMap((pass) => settingsOf(named, pass))
          : [notKnown(`${named.name}, speed`, '1/min', passes.because)],
      ),
    ],
    sizes: sizesOfBores(design),
    gauges: gaugesOfBores(design),
    time:
      machining === null
        ? handTime(minutesPerPiece, 'locks')
        : { minutes: machining + (minutesPerPiece ?? 0), per: 'piece', of: 'locks' },
    record: [
      'Program run dry over the part, then in single block, by',
      'Every bore: go in, no-go out, first piece and every 25th',
      'Drift of the shackle bores at depth, first piece',
      'Drills changed at',
    ],
    cautions: [movingMachinery],
    findings: [...wallFindings(context), ...powerFindings(context, made)],
  }
}

const PASS_NAMES: Readonly<Record<BorePass['kind'], string>> = { spot: 'spot', drill: 'drill', ream: 'reamer' }

/** What the operator sets for one tool in one bore, and what the machine will feel. Sizes are written whole: a reamer is bought by them. */
function settingsOf({ name }: NamedBore, pass: BorePass): Setting[] {
  const { kind, evidence, diameterMm, pecksMm, load, boresPerTool } = pass
  const from = (title: string, value: string): Setting => ({
    title: `${name}, ${title}`,
    value,
    unit: '',
    ...(kind === 'ream' ? {} : { evidence }),
  })
  const set = `${Number(formatFixed(diameterMm, 3))} mm, ${pass.spindleRpm} 1/min, ${pass.feedMmPerMin} mm/min, ${formatNumber(pass.minutes, 2)} min`
  const life = boresPerTool === undefined ? '' : `; changed after ${boresPerTool} bores`
  return [
    from(PASS_NAMES[kind], set),
    ...(pecksMm.length > 1 ? [from('pecks to', `${pecksMm.map((depth) => formatFixed(depth, 1)).join(', ')} mm`)] : []),
    ...(load === undefined
      ? []
      : [
          from(
            'drill when worn',
            `${formatNumber(load.torqueNm, 2)} N·m, ${formatNumber(load.thrustN / 1000, 2)} kN, ${formatNumber(load.powerKw, 2)} kW${life}`,
          ),
        ]),
  ]
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

function powerFindings(
  context: StepContext,
  made: readonly { readonly named: NamedBore; readonly passes: BorePasses }[],
): Finding[] {
  const requirement = requirementOf(context, 'drill-body', 'power', {
    title: 'Spindle power for the hardest bore',
    sense: 'at-most',
    limit: context.works.drill.powerKw,
    unit: 'kW',
    consequence: 'the spindle stalls',
    askedBy: 'Drilling machine of the works',
  })
  const failed = made.find(({ passes }) => !passes.ok)
  if (failed !== undefined) return [unknown(requirement, failed.passes.ok ? '' : failed.passes.because)]
  const [hardest] = made
    .flatMap(({ named, passes }) =>
      passes.ok
        ? passes.passes.flatMap(({ load, evidence }) => (load === undefined ? [] : [{ named, load, evidence }]))
        : [],
    )
    .sort((a, b) => b.load.powerKw - a.load.powerKw)
  if (hardest === undefined) return []
  return [
    finding(requirement, {
      predicted: { value: hardest.load.powerKw },
      evidence: hardest.evidence,
      remedy: `Drill the ${hardest.named.name.toLowerCase()} in two steps, or at a lower feed.`,
    }),
  ]
}
