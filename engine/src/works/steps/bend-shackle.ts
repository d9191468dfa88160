import { movingMachinery } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { bendLimit } from '../../shackle/bend-limit.ts'
import { overBend } from '../../shackle/over-bend.ts'
import { pressForce } from '../../shackle/press-force.ts'
import { springback } from '../../shackle/springback.ts'
import { type Asked, ask, settingFrom, stated } from '../ask.ts'
import { blankOf } from '../bar-pieces.ts'
import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { toeEntryOf } from '../toe-entry.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Bends the blank over a tool smaller than the bow, so that it springs back to size and the toe meets its bore. */
export const bendShackle: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const { shackle } = design
  const bent = blankOf(design)
  const tool = ask(overBend, { ...section(design), wantedRadiusMm: insideRadius(design) })
  const released = tool.ok ? ask(springback, { ...section(design), toolRadiusMm: tool.output.toolRadiusMm }) : tool
  const press = pressFor(context, released, tool)
  return {
    instruction:
      'Blank against the stop, heel leg long. Bend round the tool in one stroke, hold, release; gauge the leg spacing.',
    settings: [
      settingFrom(bent, { title: 'Blank, developed length', unit: 'mm', pick: ({ blankLengthMm }) => blankLengthMm }),
      settingFrom(bent, { title: 'Length in the bow', unit: 'mm', pick: ({ arcMm }) => arcMm }),
      stated('Inside radius after release', insideRadius(design), 'mm'),
      settingFrom(tool, { title: 'Tool radius', unit: 'mm', pick: ({ toolRadiusMm }) => toolRadiusMm }),
      settingFrom(released, { title: 'Bending moment', unit: 'N·m', pick: ({ momentNm }) => momentNm }),
      stated('Inside width between the legs', shackle.insideWidth.nominalMm, 'mm'),
      settingFrom(press, { title: 'Press force (estimate)', unit: 'kN', pick: ({ forceN }) => forceN / 1000 }),
    ],
    sizes: [
      {
        feature: 'Inside width between the legs',
        beforePlatingMm: limitsOf(shackle.insideWidth),
        finishedMm: {
          minMm: limitsOf(shackle.insideWidth).minMm - (2 * design.coating.onShackle.maxUm) / 1000, // µm → mm
          maxMm: limitsOf(shackle.insideWidth).maxMm - (2 * design.coating.onShackle.minUm) / 1000,
        },
        because: 'Both legs are plated on the inside too.',
      },
    ],
    time: handTime(minutesPerPiece, 'locks'),
    record: ['Leg spacing at the toe, first five and every 25th', 'Outside of the bow free of cracks'],
    cautions: [movingMachinery],
    findings: [radiusFinding(context), pressFinding(context, press), toeFinding(context)],
  }
}

const insideRadius = ({ shackle }: Design) => shackle.insideWidth.nominalMm / 2

function section({ shackle: { barDiameter, bending } }: Design) {
  return {
    section: 'round',
    depthMm: barDiameter.nominalMm,
    yieldMPa: bending.yieldMPa,
    elasticMPa: bending.elasticMPa,
  } as const
}

/** Oiled steel on a hardened die (common practice). */
const DIE_FRICTION = 0.15

type Press = Asked<unknown, { readonly forceN: number }>

/** The bar laid over two die edges and pushed in by the tool: its moment at the tool, the span, the friction at the edges. */
function pressFor(
  { design, works: { press } }: StepContext,
  released: Asked<unknown, { readonly momentNm?: number | undefined }>,
  tool: Asked<unknown, { readonly toolRadiusMm: number }>,
): Press {
  if (!tool.ok) return tool
  if (!released.ok) return released
  const { momentNm } = released.output
  if (momentNm === undefined) return { ok: false, because: 'The bending moment of the bar is not known.' }
  const d = design.shackle.barDiameter.nominalMm
  return ask(pressForce, {
    momentNm,
    halfSpanMm: tool.output.toolRadiusMm + d + (press.dieEdgeRadiusMm ?? d),
    frictionCoefficient: press.dieFriction ?? DIE_FRICTION,
  })
}

function pressFinding(context: StepContext, press: Press): Finding {
  const requirement = requirementOf(context, 'bend-shackle', 'press', {
    title: 'Press force for the bend (estimate)',
    sense: 'at-most',
    limit: context.works.press.forceKn,
    unit: 'kN',
    consequence: 'the press stalls with the shackle half bent',
    askedBy: 'Bending press of the works',
  })
  if (!press.ok) return unknown(requirement, press.because)
  return finding(requirement, {
    predicted: { value: press.output.forceN / 1000 },
    evidence: press.evidence,
    remedy: 'Open the die edges wider, oil them, or bend on the larger press.',
  })
}

function radiusFinding(context: StepContext): Finding {
  const { design } = context
  const { shackle } = design
  const asked = ask(bendLimit, {
    thicknessMm: shackle.barDiameter.nominalMm,
    insideRadiusMm: insideRadius(design),
    reductionOfAreaPercent: shackle.bending.reductionOfAreaPercent,
  })
  const requirement = requirementOf(context, 'bend-shackle', 'radius', {
    title: 'Inside radius of the bow',
    sense: 'at-least',
    limit: asked.ok ? asked.output.minimumRadiusMm : 0,
    unit: 'mm',
    reference: insideRadius(design),
    consequence: 'the outside of the bow cracks',
    askedBy: 'Reduction of area of the bar',
  })
  if (!asked.ok) return unknown({ ...requirement, limit: null }, asked.because)
  return finding(requirement, {
    predicted: { value: insideRadius(design) },
    evidence: asked.evidence,
    remedy: 'Bend warm, take a softer bar, or widen the shackle.',
  })
}

function toeFinding(context: StepContext): Finding {
  const { design } = context
  const { requirements } = design
  const requirement = requirementOf(context, 'bend-shackle', 'toe-entry', {
    title: 'Toe enters its bore',
    sense: 'at-least',
    limit: requirements.toeEntryPercent.limit,
    unit: '%',
    scale: 'missing-share',
    consequence: 'shackles have to be set by hand',
    askedBy: requirements.toeEntryPercent.askedBy,
  })
  const asked = toeEntryOf(design)
  if (!asked.ok) return unknown(requirement, asked.because)
  return finding(requirement, {
    predicted: { value: asked.output.entryPercent },
    evidence: { ...asked.evidence, shares: asked.output.shares },
    remedy: 'Open both shackle bores, sort the bars by yield strength, or set the spacing after bending.',
  })
}
