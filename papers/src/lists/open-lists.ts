import { type Finding, remnantsAfter, type WorksPlan } from '@haspwright/engine'
import type { Paper } from '../paper.ts'
import { type Cell, csv } from './csv.ts'

/** Lists without secrets: settings of every step, every finding, how the bars are cut. */
export function openLists(plan: WorksPlan): Paper[] {
  return [settingsList(plan), findingsList(plan), barsList(plan), ...remnantsList(plan)]
}

function list(path: string, title: string, bytes: Uint8Array): Paper {
  return { path, mediaType: 'text/csv; charset=utf-8', bytes, secret: false, title }
}

function settingsList({ designs }: WorksPlan): Paper {
  const rows = designs.flatMap(({ design, operations }) =>
    operations.flatMap((step) => [
      ...step.settings.map(({ title, value, unit, because }): Cell[] => [
        design.id,
        step.title,
        step.workCentre,
        title,
        value ?? 'not known yet',
        unit,
        because,
      ]),
      ...step.sizes.flatMap(({ feature, beforePlatingMm, finishedMm, because }): Cell[][] => [
        ...(beforePlatingMm === null
          ? []
          : [
              [
                design.id,
                step.title,
                step.workCentre,
                `${feature}, before plating, least`,
                beforePlatingMm.minMm,
                'mm',
                because,
              ],
              [
                design.id,
                step.title,
                step.workCentre,
                `${feature}, before plating, most`,
                beforePlatingMm.maxMm,
                'mm',
                because,
              ],
            ]),
        [design.id, step.title, step.workCentre, `${feature}, finished, least`, finishedMm.minMm, 'mm', because],
        [design.id, step.title, step.workCentre, `${feature}, finished, most`, finishedMm.maxMm, 'mm', because],
      ]),
    ]),
  )
  const head = ['design', 'step', 'work centre', 'setting', 'value', 'unit', 'because']
  return list('pick-lists/settings.csv', 'Settings of every step', csv(head, rows))
}

const VERDICTS: Readonly<Record<Finding['verdict'], string>> = {
  holds: 'holds',
  'falls-short': 'falls short',
  'not-known': 'not known yet',
}

function findingsList({ findings }: WorksPlan): Paper {
  const rows = findings.map((f): Cell[] => [
    f.id,
    f.title,
    f.operation,
    VERDICTS[f.verdict],
    f.predicted?.value,
    f.predicted?.low,
    f.predicted?.high,
    f.sense === 'at-least' ? 'at least' : 'at most',
    f.limit,
    f.unit,
    f.margin,
    f.marginShare === undefined ? undefined : f.marginShare * 100,
    f.askedBy,
    f.remedy,
    f.unknownBecause,
  ])
  const head = [
    'id',
    'requirement',
    'step',
    'verdict',
    'value',
    'low',
    'high',
    'sense',
    'limit',
    'unit',
    'margin',
    'margin %',
    'asked by',
    'remedy',
    'not known because',
  ]
  return list('pick-lists/findings.csv', 'Every requirement', csv(head, rows))
}

function barsList({ barCutting }: WorksPlan): Paper {
  const rows = barCutting.flatMap(({ form, layout, because, pieces, inStock }): Cell[][] =>
    layout === undefined
      ? pieces.map(({ name, lengthMm, quantity }) => [form, '', '', '', name, lengthMm, quantity, '', inStock, because])
      : layout.layouts.flatMap(({ stockLengthMm, times, pieces: cut, offcutMm, heat, lots = [] }, i) =>
          Object.entries(cut).map(([name, count]) => [
            form,
            i + 1,
            stockLengthMm,
            times,
            name,
            pieces.find((piece) => piece.name === name)?.lengthMm,
            count,
            offcutMm,
            inStock,
            layout.proven ? 'no layout takes fewer bars' : `no fewer than ${layout.lowerBound} bars`,
            heat,
            lots.join(' '),
          ]),
        ),
  )
  const head = [
    'bar',
    'layout',
    'stock length mm',
    'times',
    'piece',
    'piece length mm',
    'pieces a bar',
    'offcut mm',
    'bars in stock',
    'note',
    'heat',
    'lots',
  ]
  return list('pick-lists/bars.csv', 'How the bars are cut', csv(head, rows))
}

/** What goes back to the rack, marked as remnants so that the next order takes them first. */
function remnantsList(plan: WorksPlan): Paper[] {
  const rows = remnantsAfter(plan).map(({ form, lengthMm, quantity, heat }): Cell[] => [form, lengthMm, quantity, heat])
  if (rows.length === 0) return []
  return [list('pick-lists/remnants.csv', 'Remnants to put back', csv(['bar', 'length mm', 'pieces', 'heat'], rows))]
}
