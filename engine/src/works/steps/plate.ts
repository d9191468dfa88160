import type { Caution } from '../../caution.ts'
import { hexavalentChromium, nickelSalts, rectifierCurrent, trivalentChromium } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { deposit } from '../../finish/deposit.ts'
import { meanThicknessFor } from '../../finish/mean-thickness.ts'
import { serviceCondition } from '../../finish/service-condition.ts'
import { deposits } from '../../materials/deposits.ts'
import { ask, notKnown, settingFrom, stated } from '../ask.ts'
import { sizesOfBores } from '../bores.ts'
import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { platedAreaDm2 } from '../parts.ts'
import type { PartSize, Setting, StepTime } from '../plan.ts'
import { bottleneckOf, linePlan } from '../plating-line.ts'
import { bathOf, type Layer, rackLoad } from '../rack-load.ts'
import { nickelSpread } from '../thickness-spread.ts'
import { bathUseSettings } from './bath-use.ts'
import { withinLine } from './line-time.ts'
import { requirementOf, type StepContext, type StepPlanner } from './step.ts'

export const nickel: StepPlanner = (context) => {
  const layer = context.design.coating.layers.find(({ metal }) => metal === 'nickel')
  const plated = plate(context, 'nickel', layer)
  return {
    ...plated,
    instruction:
      'Nickel to the thickness on significant surfaces. Current on before the racks are in, no stop in between.',
    sizes: [legSize(context.design), ...sizesOfBores(context.design)],
    findings: [...plated.findings, ...timetableFindings(context)],
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

/** A line that the works has, and that cannot be timed for this design: what stands in the way is a finding of its own. */
function timetableFindings(context: StepContext): Finding[] {
  if (context.works.plating.line === undefined) return []
  const line = linePlan(context.design, context.works)
  if (line.ok) return []
  const requirement = requirementOf(context, 'nickel', 'timetable', {
    title: 'A timetable keeps every soak on the line',
    sense: 'at-most',
    limit: 0,
    unit: 's',
    consequence: 'nobody can say when a rack leaves its tank, and how many pass in a shift',
    askedBy: 'Tanks and carriers as the works file states them',
  })
  return [unknown({ ...requirement, limit: null }, `The line cannot be timed. ${line.because}`)]
}

function transferFindings(context: StepContext): Finding[] {
  const { nickelToChromiumS } = context.design.coating
  if (nickelToChromiumS === undefined) return []
  const requirement = requirementOf(context, 'chromium', 'transfer', {
    title: 'From nickel to chromium before the nickel goes passive',
    sense: 'at-most',
    limit: nickelToChromiumS.limit,
    unit: 's',
    consequence: 'nickel that dried or went passive does not hold the chromium: it peels',
    askedBy: nickelToChromiumS.askedBy,
  })
  const line = linePlan(context.design, context.works)
  if (!line.ok) return [unknown(requirement, `${line.because} Time the transfer and keep the racks wet.`)]
  if (line.nickelToChromiumS === undefined)
    return [unknown(requirement, 'The line of the works has no nickel tank before a chromium tank.')]
  return [
    finding(requirement, {
      predicted: { value: line.nickelToChromiumS },
      evidence: line.evidence,
      remedy:
        'Moves and shortest rinses between the two take this long: shorten the lift and drip, or move the rinse nearer.',
    }),
  ]
}

/** What the timetable says of the round of a rack. */
function lineSettings({ design, works }: StepContext): Setting[] {
  const line = linePlan(design, works)
  if (!line.ok) return [notKnown('Cycle of the line', 'min', line.because)]
  const { cycleS, startUp } = line.answer
  const computed = (title: string, value: number | string, unit = '') => ({
    title,
    value,
    unit,
    evidence: line.evidence,
  })
  return [
    computed('Cycle of the line', cycleS / 60, 'min'),
    computed('Racks an hour', 3600 / cycleS, '1/h'),
    computed('The cycle is set by', bottleneckOf(line)),
    computed('First rack off the line after', startUp.firstOutS / 60, 'min'),
  ]
}

function spreadSettings({ design, works }: StepContext, layer: Layer, leastUm: number): Setting[] {
  const computed = nickelSpread(design, works)
  const { thinnestToMean } = design.coating
  const ratio = thinnestToMean ?? (computed.ok ? computed.thinnestToMean : undefined)
  const neededUm = ratio === undefined ? undefined : meanThicknessFor({ leastUm, thinnestToMean: ratio })
  const [asPlanned, forThinnest] = [layer.meanUm, neededUm ?? layer.meanUm].map((thicknessUm) =>
    ask(deposit, { ...bathOf(layer), thicknessUm, areaDm2: 1 }),
  )
  const longer =
    neededUm === undefined || !asPlanned?.ok || !forThinnest?.ok
      ? notKnown('Longer in the tank for the thinnest spot', 'min', 'Thinnest over mean is not known.')
      : {
          title: 'Longer in the tank for the thinnest spot',
          unit: 'min',
          value: Math.max(0, forThinnest.output.minutes - asPlanned.output.minutes),
          evidence: forThinnest.evidence,
        }
  return [
    ...(thinnestToMean === undefined ? [] : [stated('Thinnest over mean, measured on earlier loads', thinnestToMean)]),
    computed.ok
      ? {
          title: `Thinnest over mean, computed over the ${computed.part}`,
          unit: '',
          value: computed.thinnestToMean,
          evidence: computed.evidence,
        }
      : notKnown('Thinnest over mean, computed', '', computed.because),
    longer,
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
      ...(operation === 'nickel'
        ? [
            ...spreadSettings(context, layer, leastThickness(context, operation, layer).leastUm),
            ...lineSettings(context),
          ]
        : []),
      ...bathUseSettings(context, layer),
    ],
    time: rack.ok && load.ok ? timeOf(context, operation, { minutes: rack.output.minutes, perLoad }) : null,
    record: ['Rectifier current and time', 'Ampere hours'],
    cautions: cautionsFor(layer),
    findings: thicknessFindings(context, operation, layer, rack),
  }
}

/** Nickel carries the round of the line: the first rack's way through it, then a rack each cycle. */
function timeOf(
  context: StepContext,
  operation: 'nickel' | 'chromium',
  { minutes, perLoad }: { minutes: number; perLoad: number },
): StepTime {
  const rack = { minutes, per: 'load', piecesPerLoad: perLoad, of: 'locks' } as const
  const line = linePlan(context.design, context.works)
  if (!line.ok) return rack
  if (operation === 'chromium') return { ...rack, ...withinLine(context) }
  return { ...rack, minutes: line.answer.cycleS / 60, firstMinutes: line.answer.startUp.firstOutS / 60 } // s → min
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
  if (operation === 'chromium')
    return [
      unknown(
        requirement,
        'The efficiency of chromium falls with the current density, which the computed spread leaves out: measure the thinnest spot of a trial rack.',
      ),
    ]
  const spread = ratioOf(context)
  if (!spread.ok) return [unknown(requirement, `${spread.because} Measure the thinnest spot of a trial rack.`)]
  if (!rack.ok) return [unknown(requirement, rack.because)]
  const { ratio } = spread
  const meanForLimit = meanThicknessFor({ leastUm, thinnestToMean: ratio }) ?? layer.meanUm
  return [
    finding(requirement, {
      predicted: { value: layer.meanUm * ratio },
      evidence: {
        ...rack.evidence,
        working: [
          {
            finds: spread.finds,
            formula: String.raw`h_{min} = q\,\bar h`,
            filled: String.raw`h_{min} = ${ratio.toFixed(3)} \cdot ${layer.meanUm} = ${(layer.meanUm * ratio).toFixed(2)}\,\text{µm}`,
          },
          ...(typeof rack.evidence.working === 'string' ? [] : rack.evidence.working),
        ],
        sources: [...rack.evidence.sources, ...spread.sources],
        notices: [...rack.evidence.notices, ...spread.notices],
      },
      remedy: `Plate to a mean of ${meanForLimit.toFixed(1)} µm instead of ${layer.meanUm} µm.`,
    }),
  ]
}

/** Thinnest over mean as measured on earlier loads, else as the current's spread gives it. */
function ratioOf({ design, works }: StepContext) {
  const computed = nickelSpread(design, works)
  const measured = design.coating.thinnestToMean
  if (measured !== undefined)
    return {
      ok: true,
      ratio: measured,
      finds: 'Thinnest spot from the ratio measured on earlier loads',
      sources: [],
      notices: [
        computed.ok
          ? `Thinnest over mean is measured on earlier loads of this design; the current's spread over the ${computed.part} gives ${computed.thinnestToMean.toFixed(2)}.`
          : 'Thinnest over mean is a ratio measured on earlier loads of this design, not a computed distribution.',
      ],
    } as const
  if (!computed.ok) return computed
  return {
    ok: true,
    ratio: computed.thinnestToMean,
    finds: `Thinnest spot from the current's spread over the ${computed.part}, computed`,
    sources: computed.evidence.sources,
    notices: [
      ...computed.evidence.notices,
      'Thinnest over mean is computed in a plane cut, ends of parts and bores left out: hold it against a measured rack.',
    ],
  } as const
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

const SALTS: Readonly<Partial<Record<Layer['metal'], Caution>>> = {
  'chromium(VI)': hexavalentChromium,
  'chromium(III)': trivalentChromium,
  nickel: nickelSalts,
}

function cautionsFor({ metal }: Layer): Caution[] {
  const salts = SALTS[metal]
  return salts === undefined ? [rectifierCurrent] : [salts, rectifierCurrent]
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
