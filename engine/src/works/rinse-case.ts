import type { rinse } from '../finish/rinse.ts'
import { platedAreaDm2 } from './parts.ts'
import { linePlan } from './plating-line.ts'
import { type Layer, type Racked, rackLoad } from './rack-load.ts'
import { bathFor } from './thickness-spread.ts'

type RinseInput = (typeof rinse)['input']['_output']

/**
 * The rinse after a bath while the racks of some locks pass: what they carry out an hour, and how clean the works wants the last tank.
 * Or why that is not known.
 */
export function rinseCase(
  { design, works, locks }: Racked,
  { metal }: Pick<Layer, 'metal'>,
): { readonly ok: true; readonly input: RinseInput } | { readonly ok: false; readonly because: string } {
  const bath = bathFor(works, metal)
  if (bath === undefined) return { ok: false, because: 'The works file does not describe this bath.' }
  const line = linePlan(design, works)
  if (!line.ok) return line
  const load = rackLoad({ design, works, locks })
  if (!load.ok) return load
  const dragOutL = (platedAreaDm2(design) * locks * bath.dragOutMlPerDm2) / 1000 // mL → L
  const hours = (load.output.loads * line.answer.cycleS) / 3600 // s → h
  return {
    ok: true,
    input: { dragOutLPerH: dragOutL / hours, concentrationGPerL: bath.metalGPerL, ...bath.rinse },
  }
}
