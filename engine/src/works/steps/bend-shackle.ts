import { movingMachinery } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { bendLimit } from '../../shackle/bend-limit.ts'
import { overBend } from '../../shackle/over-bend.ts'
import { springback } from '../../shackle/springback.ts'
import { toeEntry } from '../../shackle/toe-entry.ts'
import { ask, notKnown, settingFrom, stated } from '../ask.ts'
import { blankOf } from '../bar-pieces.ts'
import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Bends the blank over a tool smaller than the bow, so that it springs back to size and the toe meets its bore. */
export const bendShackle: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const { shackle } = design
  const bent = blankOf(design)
  const tool = ask(overBend, { ...section(design), wantedRadiusMm: insideRadius(design) })
  const released = tool.ok ? ask(springback, { ...section(design), toolRadiusMm: tool.output.toolRadiusMm }) : tool
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
      notKnown(
        'Press force',
        'kN',
        'No published model for bending round bar into a U was found: start low and read the press.',
      ),
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
    findings: [radiusFinding(context), toeFinding(context)],
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
  const { shackle, body, coating, requirements } = design
  const requirement = requirementOf(context, 'bend-shackle', 'toe-entry', {
    title: 'Toe enters its bore',
    sense: 'at-least',
    limit: requirements.toeEntryPercent.limit,
    unit: '%',
    scale: 'missing-share',
    consequence: 'shackles have to be set by hand',
    askedBy: requirements.toeEntryPercent.askedBy,
  })
  const axis = body.legAxisToBarrelAxis
  const asked = ask(toeEntry, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    barDiameterSigmaMm: shackle.barDiameter.sigmaMm ?? (shackle.barDiameter.plusMm + shackle.barDiameter.minusMm) / 6,
    insideWidthMm: shackle.insideWidth.nominalMm,
    legLengthMm: shackle.toeLegMm,
    yieldMPa: shackle.bending.yieldMPa,
    yieldSigmaMPa: shackle.bending.yieldSigmaMPa,
    elasticMPa: shackle.bending.elasticMPa,
    pressSigmaMm: shackle.bending.widthSigmaMm,
    boreDistanceMm: 2 * axis.nominalMm,
    boreDistanceSigmaMm: Math.SQRT2 * (axis.sigmaMm ?? (axis.plusMm + axis.minusMm) / 6),
    boreDiameterMm: middle(body.toeBore.diameter),
    heelBoreDiameterMm: middle(body.heelBore.diameter),
    legDiameterMm: middle(shackle.barDiameter) + (coating.onShackle.minUm + coating.onShackle.maxUm) / 1000, // 2 · mean, µm → mm
  })
  if (!asked.ok) return unknown(requirement, asked.because)
  return finding(requirement, {
    predicted: { value: asked.output.entryPercent },
    evidence: { ...asked.evidence, shares: asked.output.shares },
    remedy: 'Open both shackle bores, sort the bars by yield strength, or set the spacing after bending.',
  })
}

function middle(dimension: Parameters<typeof limitsOf>[0]): number {
  const { minMm, maxMm } = limitsOf(dimension)
  return (minMm + maxMm) / 2
}
