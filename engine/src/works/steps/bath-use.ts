import { bath as bathUse } from '../../finish/bath.ts'
import { deposit } from '../../finish/deposit.ts'
import { rinse } from '../../finish/rinse.ts'
import { ask, notKnown, settingFrom } from '../ask.ts'
import { platedAreaDm2 } from '../parts.ts'
import type { Setting } from '../plan.ts'
import { bathOf, type Layer, type Racked } from '../rack-load.ts'
import { rinseCase } from '../rinse-case.ts'
import { bathFor } from '../thickness-spread.ts'
import type { StepContext } from './step.ts'

/** What the locks of the whole order take out of a bath: charge, anodes, salts, additives, drag-out, rinse water. */
export function bathUseSettings({ design, works, locks }: StepContext, layer: Layer): Setting[] {
  const areaDm2 = platedAreaDm2(design) * locks
  const plated = ask(deposit, { ...bathOf(layer), areaDm2 })
  const charge = settingFrom(plated, {
    title: 'Charge for the order',
    unit: 'Ah',
    pick: ({ ampereHours }) => ampereHours,
  })
  const bath = bathFor(works, layer.metal)
  if (bath === undefined)
    return [charge, notKnown('Drag-out for the order', 'L', 'The works file does not describe this bath.')]
  if (!plated.ok) return [charge]
  const used = ask(bathUse, {
    metal: layer.metal,
    ampereHours: plated.output.ampereHours,
    efficiencyPercent: layer.efficiencyPercent,
    anodeEfficiencyPercent: bath.anodeEfficiencyPercent,
    areaDm2,
    dragOutMlPerDm2: bath.dragOutMlPerDm2,
    metalGPerL: bath.metalGPerL,
    salts: bath.salts.map(({ name, gPerL }) => ({ name, gPerL })),
    additives: bath.additives.map(({ name, mlPerKiloampereHour }) => ({ name, mlPerKiloampereHour })),
    rinse: { stages: bath.rinse.stages, targetGPerL: bath.rinse.targetGPerL },
  })
  const grams = (title: string, pick: (output: (typeof bathUse)['output']['_output']) => number | undefined) =>
    settingFrom(used, { title: `${title} for the order`, unit: 'g', pick })
  return [
    charge,
    ...(bath.anodeEfficiencyPercent === 0 ? [] : [grams('Anodes', ({ anodeG }) => anodeG)]),
    settingFrom(used, { title: 'Drag-out for the order', unit: 'L', pick: ({ dragOutL }) => dragOutL }),
    ...bath.salts.map(({ name }, i) => grams(`${name} carried out`, ({ saltsG }) => saltsG[i]?.grams)),
    ...bath.additives.map(({ name }, i) =>
      settingFrom(used, {
        title: `${name} for the order`,
        unit: 'mL',
        pick: ({ additivesMl }) => additivesMl[i]?.millilitres,
      }),
    ),
    grams('Metal to waste treatment', ({ metalCarriedOutG }) => metalCarriedOutG),
    settingFrom(used, { title: 'Rinse water for the order', unit: 'L', pick: ({ rinseWaterL }) => rinseWaterL }),
    ...rinseFlow({ design, works, locks }, layer),
  ]
}

/** Fresh water while the racks of the order pass. */
function rinseFlow(racked: Racked, layer: Layer): Setting[] {
  const [found, title] = [rinseCase(racked, layer), 'Rinse flow while the racks pass']
  if (!found.ok) return [notKnown(title, 'L/h', found.because)]
  return [settingFrom(ask(rinse, found.input), { title, unit: 'L/h', pick: ({ flowLPerH }) => flowLPerH })]
}
