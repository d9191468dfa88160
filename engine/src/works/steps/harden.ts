import { hotSteel, quenchOil, strengthIsEstimated } from '../../caution.ts'
import { embrittlingAt } from '../../heat/embrittlement.ts'
import { furnaceLoad } from '../../heat/load.ts'
import { temper } from '../../heat/temper.ts'
import { temperFor } from '../../heat/temper-for.ts'
import { throughHeating } from '../../heat/through-heating.ts'
import { steels } from '../../materials/steels.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { type HeatCase, heatCases } from '../heat-case.ts'
import { shackleMassKg, shackleRoomL } from '../parts.ts'
import type { Setting } from '../plan.ts'
import { hardeningFindings } from './harden-findings.ts'
import type { StepPlanner } from './step.ts'

/** Austenitizes, quenches and tempers the shackles. Quenching alone leaves them brittle: tempering gives the toughness. */
export const harden: StepPlanner = (context) => {
  const { design, works, locks, barHeats } = context
  const { heat, shackle } = design
  const cases = heatCases(design, barHeats)
  const [first] = cases
  if (first === undefined) throw new Error('a design is hardened from one heat at least')
  const { window } = first
  const heating = window.ok
    ? ask(throughHeating, { diameterMm: shackle.barDiameter.nominalMm, furnaceC: window.output.setC })
    : window
  const tempered = ask(temper, { temperatureC: heat.temperC, minutes: heat.temperMinutes, steel: shackle.steel })
  const wantedHrc = (heat.hardness.minHrc + heat.hardness.maxHrc) / 2
  const proposed = ask(temperFor, { steel: shackle.steel, hrc: wantedHrc, minutes: heat.temperMinutes })
  const load = window.ok
    ? ask(furnaceLoad, {
        parts: Math.max(1, locks),
        partMassKg: shackleMassKg(design),
        partVolumeL: shackleRoomL(design),
        chargeMassKg: works.furnace.maxChargeKg,
        basketVolumeL: works.furnace.basketDm3,
        fillPercent: works.furnace.fillPercent,
        cycleMinutes: window.output.soakMinutes + heat.temperMinutes + works.furnace.heatUpMinutes,
      })
    : window
  return {
    instruction:
      'Austenitize the shackles hanging free, quench within seconds, wash, temper at once before the cracks find them.',
    settings: [
      ...cases.flatMap((each) => caseSettings(each, context.design, cases.length > 1)),
      settingFrom(heating, { title: 'Core of one shackle hot after', unit: 'min', pick: ({ minutes }) => minutes }),
      stated('Quench in', `${heat.quenchant}, agitation ${heat.agitation}`),
      stated('Bath temperature', heat.bathC, '°C'),
      stated('Temper at', heat.temperC, '°C'),
      stated('Time at tempering temperature', heat.temperMinutes, 'min'),
      ...(embrittlingAt(heat.temperC, shackle.steel).length === 0
        ? []
        : [stated('After tempering', 'cool in water or oil, not in air: this heat embrittles')]),
      settingFrom(proposed, {
        title: `Tempering temperature for ${wantedHrc} HRC`,
        unit: '°C',
        pick: ({ temperatureC }) => temperatureC,
      }),
      settingFrom(load, { title: 'Shackles in a charge', unit: '', pick: ({ partsPerCharge }) => partsPerCharge }),
    ],
    time: load.ok
      ? {
          minutes: load.input.cycleMinutes,
          per: 'load',
          piecesPerLoad: load.output.partsPerCharge,
          of: 'locks',
          unattended: true,
        }
      : null,
    record: [
      'Heat number of the bars',
      'Furnace log of the charge',
      'Seconds from furnace to quench',
      'Hardness of three shackles as quenched',
      'Hardness of five shackles tempered',
    ],
    cautions: [hotSteel, ...(heat.quenchant === 'oil' ? [quenchOil] : []), strengthIsEstimated],
    findings: hardeningFindings(context, cases, { tempered, proposed }),
  }
}

/** What is set and expected when the shackles are cut from one heat; named after it where there are several. */
function caseSettings(each: HeatCase, design: { shackle: { steel: keyof typeof steels } }, named: boolean): Setting[] {
  const { barHeat, window, quenched, section, delay } = each
  const of = named ? `, heat ${barHeat?.number}` : ''
  return [
    stated(
      'Figures rest on',
      barHeat === undefined ? 'the middle of the range' : `the certificate of heat ${barHeat.number}`,
    ),
    ...pointSettings(each, steels[design.shackle.steel].transformation, of),
    settingFrom(window, { title: `Set the furnace to${of}`, unit: '°C', pick: ({ setC }) => setC }),
    settingFrom(window, { title: `Austenitize from${of}`, unit: '°C', pick: ({ minC }) => minC }),
    settingFrom(window, { title: `Austenitize to${of}`, unit: '°C', pick: ({ maxC }) => maxC }),
    settingFrom(window, {
      title: `Soak once the charge is at temperature${of}`,
      unit: 'min',
      pick: ({ soakMinutes }) => soakMinutes,
    }),
    settingFrom(delay, {
      title: `Out of the furnace, in the bath within${of}`,
      unit: 's',
      pick: ({ seconds }) => seconds,
    }),
    settingFrom(quenched, {
      title: `Hardness before tempering to expect at the surface${of}`,
      unit: 'HRC',
      pick: ({ hrc }) => hrc,
    }),
    settingFrom(section, { title: `As quenched, surface${of}`, unit: 'HRC', pick: ({ surfaceHrc }) => surfaceHrc }),
    settingFrom(section, { title: `As quenched, centre${of}`, unit: 'HRC', pick: ({ centreHrc }) => centreHrc }),
    settingFrom(section, {
      title: `Risk of cracking in the quench${of}`,
      unit: '',
      pick: ({ crackRisk, crackReasons }) => [crackRisk, ...crackReasons].join(': '),
    }),
    settingFrom(section, {
      title: `Risk of distortion in the quench${of}`,
      unit: '',
      pick: ({ distortionRisk, distortionReasons }) => [distortionRisk, ...distortionReasons].join(': '),
    }),
  ]
}

/** Transformation points by formula; where no formula describes the steel, those its card measured. */
function pointSettings(
  { barHeat, points }: HeatCase,
  card: { readonly ac1C: number; readonly ac3C: number; readonly msC: number } | undefined,
  of: string,
): Setting[] {
  const basis = barHeat === undefined ? ' of the steel (middle of its range)' : of === '' ? ' of the heat' : of
  if (!points.ok && card !== undefined)
    return [
      stated(`Ac1 as the card measured${of}`, card.ac1C, '°C'),
      stated(`Ac3 as the card measured${of}`, card.ac3C, '°C'),
      stated(`Martensite starts at, as the card measured${of}`, card.msC, '°C'),
    ]
  return [
    settingFrom(points, { title: `Ac1${basis}`, unit: '°C', pick: ({ ac1C }) => ac1C }),
    settingFrom(points, { title: `Ac3${basis}`, unit: '°C', pick: ({ ac3C }) => ac3C }),
    settingFrom(points, { title: `Martensite starts at${of}`, unit: '°C', pick: ({ msC }) => msC }),
  ]
}
