import type { Caution } from '../../caution.ts'
import { hexavalentChromium, nickelSalts, rectifierCurrent } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { deposit } from '../../finish/deposit.ts'
import { meanThicknessFor } from '../../finish/mean-thickness.ts'
import { serviceCondition } from '../../finish/service-condition.ts'
import { deposits } from '../../materials/deposits.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { sizesOfBores } from '../bores.ts'
import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { platedAreaDm2 } from '../parts.ts'
import type { PartSize } from '../plan.ts'
import { bathOf, type Layer, rackLoad } from '../rack-load.ts'
import { requirementOf, type StepContext, type StepPlanner } from './step.ts'

export const nickel: StepPlanner = (context) => {
  const layer = context.design.coating.layers.find(({ metal }) => metal === 'nickel')
  const plated = plate(context, 'nickel', layer)
  return {
    ...plated,
    instruction:
      'Nickel to the thickness on significant surfaces. Current on before the racks are in, no stop in between.',
    sizes: [legSize(context.design), ...sizesOfBores(context.design)],
    record: [...plated.record, 'Thickness at the toe, bow and inside of the leg, three shackles a rack'],
  }
}

export const chromium: StepPlanner = (context) => {
  const layer = context.design.coating.layers.find(({ metal }) => metal.startsWith('chromium'))
  const plated = plate(context, 'chromium', layer)
  return {
    ...plated,
    instruction:
      'Chromium straight after nickel and its rinse, the surface never dry. Trivalent bath is the first choice.',
    settings: [
      ...plated.settings,
      ...(context.design.coating.nickelToChromiumS === undefined
        ? []
        : [stated('From nickel to chromium within', context.design.coating.nickelToChromiumS.limit, 's')]),
    ],
    findings: [...plated.findings, ...transferFindings(context)],
  }
}

function transferFindings(context: StepContext): Finding[] {
  const { nickelToChromiumS } = context.design.coating
  if (nickelToChromiumS === undefined) return []
  const requirement = requirementOf(context, 'chromium', 'transfer', {
    title: 'From nickel to chromium before the nickel goes passive',
    sense: 'at-most',
    limit: nickelToChromiumS.limit,
    unit: 's',
    askedBy: nickelToChromiumS.askedBy,
  })
  return [
    unknown(
      requirement,
      "The timetable of the line's carrier is not computed yet: time the transfer and keep the racks wet.",
    ),
  ]
}

function plate(context: StepContext, operation: 'nickel' | 'chromium', layer: Layer | undefined) {
  const { design } = context
  if (layer === undefined)
    return {
      ...unplated,
      settings: [stated('Layer', `the design has no ${operation} layer`)],
      cautions: [],
      findings: [],
      record: [],
    }
  const areaDm2 = platedAreaDm2(design)
  const load = rackLoad(context)
  const perLoad = load.ok ? load.output.partsPerLoad : 1
  const rack = ask(deposit, { ...bathOf(layer), areaDm2: areaDm2 * perLoad })
  return {
    ...unplated,
    settings: [
      stated('Metal', deposits[layer.metal].title),
      stated('Plated area of a lock, body and shackle', areaDm2, 'dm²'),
      settingFrom(load, { title: 'Locks on a rack', unit: '', pick: ({ partsPerLoad }) => partsPerLoad }),
      stated('Current density', layer.currentDensityAPerDm2, 'A/dm²'),
      settingFrom(rack, { title: 'Rectifier', unit: 'A', pick: ({ currentA }) => currentA }),
      settingFrom(rack, { title: 'Time in the tank', unit: 'min', pick: ({ minutes }) => minutes }),
      settingFrom(rack, { title: 'Charge a rack', unit: 'Ah', pick: ({ ampereHours }) => ampereHours }),
      settingFrom(rack, { title: 'Metal a rack', unit: 'g', pick: ({ massG }) => massG }),
    ],
    time:
      rack.ok && load.ok
        ? ({ minutes: rack.output.minutes, per: 'load', piecesPerLoad: perLoad, of: 'locks' } as const)
        : null,
    record: ['Rectifier current and time', 'Ampere hours'],
    cautions: cautionsFor(layer),
    findings: thicknessFindings(context, operation, layer, rack),
  }
}

function thicknessFindings(
  context: StepContext,
  operation: 'nickel' | 'chromium',
  layer: Layer,
  rack: ReturnType<typeof ask<typeof deposit.input, typeof deposit.output>>,
): Finding[] {
  const name = operation === 'nickel' ? 'Nickel' : 'Chromium'
  const { leastUm, askedBy } = leastThickness(context, operation, layer)
  const requirement = requirementOf(context, operation, 'thinnest', {
    title: `${name} where it is thinnest`,
    sense: 'at-least',
    limit: leastUm,
    unit: 'µm',
    consequence: `${name.toLowerCase()} is too thin in the recesses and the lock rusts there first`,
    askedBy,
  })
  const ratio = context.design.coating.thinnestToMean
  if (operation === 'chromium' || ratio === undefined)
    return [
      unknown(
        requirement,
        'The spread of thickness over the part is not computed yet: measure the thinnest spot of a trial rack.',
      ),
    ]
  if (!rack.ok) return [unknown(requirement, rack.because)]
  const meanForLimit = meanThicknessFor({ leastUm, thinnestToMean: ratio }) ?? layer.meanUm
  return [
    finding(requirement, {
      predicted: { value: layer.meanUm * ratio },
      evidence: {
        ...rack.evidence,
        working: [
          {
            finds: 'Thinnest spot from the ratio measured on earlier loads',
            formula: String.raw`h_{min} = q\,\bar h`,
            filled: String.raw`h_{min} = ${ratio} \cdot ${layer.meanUm} = ${(layer.meanUm * ratio).toFixed(2)}\,\text{µm}`,
          },
          ...(typeof rack.evidence.working === 'string' ? [] : rack.evidence.working),
        ],
        notices: [
          ...rack.evidence.notices,
          'Thinnest over mean is a ratio measured on earlier loads of this design, not a computed distribution.',
        ],
      },
      remedy: `Plate to a mean of ${meanForLimit.toFixed(1)} µm instead of ${layer.meanUm} µm.`,
    }),
  ]
}

/** The least thickness: what the design asks for, or what its service condition asks for where that is more. */
function leastThickness({ design: { coating } }: StepContext, operation: 'nickel' | 'chromium', layer: Layer) {
  const asked = ask(serviceCondition, { condition: coating.serviceCondition, chromium: coating.chromium })
  if (!asked.ok) return { leastUm: layer.minUm, askedBy: layer.askedBy }
  const serviceUm = operation === 'nickel' ? asked.output.nickelUm : asked.output.leastChromiumUm
  return serviceUm > layer.minUm
    ? {
        leastUm: serviceUm,
        askedBy: `ASTM B456, service condition ${coating.serviceCondition}: ${asked.output.designation}`,
      }
    : { leastUm: layer.minUm, askedBy: layer.askedBy }
}

function cautionsFor({ metal }: Layer): Caution[] {
  if (metal === 'chromium(VI)') return [hexavalentChromium, rectifierCurrent]
  return metal === 'nickel' ? [nickelSalts, rectifierCurrent] : [rectifierCurrent]
}

function legSize({ shackle, coating }: Design): PartSize {
  const bare = limitsOf(shackle.barDiameter)
  return {
    feature: 'Shackle leg diameter',
    beforePlatingMm: bare,
    finishedMm: {
      minMm: bare.minMm + (2 * coating.onShackle.minUm) / 1000, // µm → mm
      maxMm: bare.maxMm + (2 * coating.onShackle.maxUm) / 1000,
    },
    because: 'A plated leg grows by twice the coating.',
  }
}

const unplated = { instruction: '', time: null } as const
