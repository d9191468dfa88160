import { hotSteel, hydrogenEmbrittlement } from '../../caution.ts'
import { formatMinutes } from '../../display.ts'
import { type Evidence, type Finding, finding, type Requirement, unknown } from '../../finding.ts'
import { reliefBake } from '../../finish/relief-bake.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { hydrogenStrength } from '../parts.ts'
import { platingQueue } from '../plating-queue.ts'
import { requirementOf, type StepContext, type StepPlanner } from './step.ts'

type Bake = ReturnType<typeof ask<typeof reliefBake.input, typeof reliefBake.output>>

/** Drives the hydrogen out of hard steel before it cracks. Nobody sees at inspection whether this was done. */
export const reliefBakeStep: StepPlanner = (context) => {
  const { design, works } = context
  const tensile = hydrogenStrength(design)
  const bake: Bake = tensile.ok
    ? ask(reliefBake, { tensileMPa: tensile.tensileMPa, temperedAtC: design.heat.temperC })
    : tensile
  const hours = bake.ok ? bake.output.hours : undefined
  return {
    instruction:
      'Into the oven within the deadline, racks off, parts apart. Start the clock when the parts are at temperature.',
    settings: [
      tensile.ok
        ? {
            title: 'Tensile strength at the hardest allowed',
            value: tensile.tensileMPa,
            unit: 'MPa',
            evidence: tensile.evidence,
          }
        : { title: 'Tensile strength at the hardest allowed', value: null, unit: 'MPa', because: tensile.because },
      stated('Oven', works.bake.oven),
      stated('Set to', works.bake.setC, '°C'),
      settingFrom(bake, { title: 'Bake needed', unit: '', pick: ({ needed }) => (needed ? 'yes' : 'no') }),
      settingFrom(bake, { title: 'Time at temperature', unit: 'h', pick: (output) => output.hours }),
      settingFrom(bake, { title: 'Start within', unit: 'h', pick: (output) => output.withinHours }),
    ],
    time:
      hours === undefined
        ? null
        : { minutes: hours * 60, per: 'load', piecesPerLoad: works.bake.piecesPerLoad, of: 'locks', unattended: true },
    record: ['Out of the last tank at', 'Into the oven at', 'At temperature from, to', 'Oven chart attached'],
    cautions: [hydrogenEmbrittlement, hotSteel],
    findings: bakeFindings(context, bake),
  }
}

function bakeFindings(context: StepContext, bake: Bake): Finding[] {
  const { design, works } = context
  const gap = requirementOf(context, 'relief-bake', 'below-tempering', {
    title: 'Bake stays below the tempering temperature',
    sense: 'at-least',
    limit: design.heat.bakeGapK,
    unit: 'K',
    reference: Math.max(design.heat.bakeGapK, 1),
    consequence: 'the bake tempers the shackle a second time and softens it',
    askedBy: `Gap asked for by ${design.id}; the baking standards ask for a bake below the tempering temperature`,
  })
  const gapK = design.heat.temperC - works.bake.setC
  const start = requirementOf(context, 'relief-bake', 'start', {
    title: 'Bake starts after the last plating tank',
    sense: 'at-most',
    limit: 0,
    unit: 'h',
    consequence: 'cracks may start before the hydrogen is out',
    askedBy: 'Deadline for hydrogen relief',
  })
  const window = (key: 'least' | 'most', limit: number) =>
    requirementOf(context, 'relief-bake', `oven-${key}`, {
      title: key === 'least' ? 'Oven hot enough for the bake' : 'Oven not above the bake range',
      sense: key === 'least' ? 'at-least' : 'at-most',
      limit,
      unit: '°C',
      reference: 30,
      consequence: key === 'least' ? 'hydrogen stays in the steel' : 'the bake leaves the range of the standard',
      askedBy: bake.ok ? bake.output.source : '',
    })
  const found = [
    finding(gap, {
      predicted: { value: gapK },
      evidence: {
        calculation: reliefBake.id,
        input: { temperC: design.heat.temperC, setC: works.bake.setC },
        working: [
          {
            finds: 'Gap from the bake up to the tempering temperature',
            formula: String.raw`\Delta\vartheta = \vartheta_{temper} - \vartheta_{bake}`,
            filled: String.raw`\Delta\vartheta = ${design.heat.temperC} - ${works.bake.setC} = ${gapK}\,\text{K}`,
          },
        ],
        sources: reliefBake.sources,
        notices: [],
      },
      remedy: `Set the oven to ${design.heat.temperC - design.heat.bakeGapK} °C or lower, or temper higher.`,
    }),
  ]
  if (!bake.ok) return [...found, unknown({ ...start, limit: null }, bake.because)]
  const { needed, withinHours, minC, maxC } = bake.output
  if (!needed || withinHours === undefined || minC === undefined || maxC === undefined) return found
  return [
    ...found,
    startFinding(context, { ...start, limit: withinHours }, bake.evidence),
    finding(window('least', minC), {
      predicted: { value: works.bake.setC },
      evidence: bake.evidence,
      remedy: `Set the oven to at least ${minC} °C.`,
    }),
    finding(window('most', maxC), {
      predicted: { value: works.bake.setC },
      evidence: bake.evidence,
      remedy: `Set the oven to at most ${maxC} °C.`,
    }),
  ]
}

/**
 * Longest wait between the last plating tank and the oven, in the largest lot, against the deadline. Where the oven takes a whole lot
 * at once, the first rack waits until the line has let the last one through.
 */
function startFinding(
  { design, works, largestLot }: StepContext,
  requirement: Requirement,
  evidence: Evidence,
): Finding {
  const { minutesToBake } = design.coating
  const queue = platingQueue({ design, works, locks: largestLot })
  if (!queue.ok) return unknown(requirement, queue.because)
  const { racks, minutesApart } = queue
  const racksInTime = Math.max(1, Math.floor((requirement.limit * 60 - minutesToBake) / minutesApart) + 1)
  const minutes = minutesToBake + (works.bake.loading === 'lot' ? (racks - 1) * minutesApart : 0)
  return finding(requirement, {
    predicted: { value: minutes / 60 },
    evidence,
    remedy: `Let the oven take racks as they come, or make lots of ${racksInTime} racks at most; the first rack now waits ${formatMinutes(minutes)}.`,
  })
}
