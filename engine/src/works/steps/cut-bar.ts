import { saw } from '../../body/saw.ts'
import { movingMachinery } from '../../caution.ts'
import { cuttingClassOf } from '../../materials/part-materials.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { barPieces, blankOf } from '../bar-pieces.ts'
import { bodyMassKg } from '../parts.ts'
import type { StepContext, StepPlanner } from './step.ts'

/** Saws blocks and blanks; the layout is made over all lines of the order together, because short bars are shared. */
export const cutBar: StepPlanner = ({ design, works }) => {
  const { body, shackle } = design
  const block = ask(saw, {
    section: 'flat',
    widthMm: body.widthMm,
    heightMm: body.thicknessMm,
    ...sawing(body.material, works.saw),
  })
  const round = ask(saw, {
    section: 'round',
    widthMm: shackle.barDiameter.nominalMm,
    ...sawing(shackle.steel, works.saw),
  })
  const pieces = barPieces(design)
  const bent = blankOf(design)
  return {
    instruction:
      'Saw by the bar layout of the order. One bar heat for one lot: write the heat on the traveller before the bar is cut.',
    settings: [
      ...pieces.map(({ name, lengthMm }) => stated(`${name}, saw stop`, lengthMm, 'mm')),
      settingFrom(bent, {
        title: 'Shackle blank, developed length',
        unit: 'mm',
        pick: ({ blankLengthMm }) => blankLengthMm,
      }),
      stated('Kerf', works.saw.kerfMm, 'mm'),
      settingFrom(block, { title: 'Cut through a body', unit: 'min', pick: ({ minutesPerCut }) => minutesPerCut }),
      settingFrom(round, {
        title: 'Cut through a shackle bar',
        unit: 'min',
        pick: ({ minutesPerCut }) => minutesPerCut,
      }),
      ...(works.saw.bladeLifeCm2 === undefined
        ? []
        : [
            settingFrom(block, {
              title: 'Blade changed after, bodies',
              unit: 'cuts',
              pick: ({ cutsPerBlade }) => cutsPerBlade,
            }),
            settingFrom(round, {
              title: 'Blade changed after, shackles',
              unit: 'cuts',
              pick: ({ cutsPerBlade }) => cutsPerBlade,
            }),
          ]),
      ...(works.saw.keepFromMm === undefined ? [] : [stated('Off-cuts kept from', works.saw.keepFromMm, 'mm')]),
      stated('Mass of a body, drilled', bodyMassKg(design), 'kg'),
    ],
    time:
      block.ok && round.ok ? { minutes: block.output.minutes + round.output.minutes, per: 'piece', of: 'locks' } : null,
    record: ['Bar heat', 'Length of the first piece of each bar', 'Off-cuts kept, length'],
    cautions: [movingMachinery],
    findings: [],
  }
}

/** One cut at the rate that the works measured; a material without cutting data is sawn as low-alloy steel, the slower kind. */
function sawing(material: string, { cm2PerMin, bladeLifeCm2 }: StepContext['works']['saw']) {
  return {
    material: cuttingClassOf(material) ?? 'low-alloy-steel',
    rateCm2PerMin: cm2PerMin,
    cuts: 1,
    ...(bladeLifeCm2 === undefined ? {} : { bladeLifeCm2 }),
  } as const
}
