import { choice, list, OPERATIONS, operationTitles } from '@haspwright/engine'
import { LOAD_KINDS } from '@haspwright/register'
import { z } from 'zod'

/** One line that a person can read: no control characters, no half of a letter, not blank. */
const line = (title: string, max: number, description = `One line of text, at most ${max} characters`) =>
  z
    .string()
    .max(max)
    .regex(/^(?=.*\S)[^\p{Cc}\p{Cs}]+$/u)
    .meta({ title, description })
const number = (title: string) => line(title, 64)
const moment = (title: string) =>
  z.iso.datetime({ offset: true }).meta({ title, description: 'Date and time, ISO 8601; now, where it is left out' })
const equipment = line('Machine, furnace or line', 60)

export const LotCut = z
  .strictObject({ heat: line('Heat of its bars', 40) })
  .meta({ title: 'Heat that a lot was cut from' })

export const LoadStarted = z
  .strictObject({
    kind: choice('Load', LOAD_KINDS),
    equipment,
    lots: list('Lots in it, whole or in part', line('Lot', 80), { max: 200 }),
    startedAt: moment('Started at').optional(),
  })
  .meta({ title: 'Load' })

export const OperationBegun = z
  .strictObject({
    step: choice('Operation', OPERATIONS, operationTitles),
    equipment: equipment.optional(),
    load: number('Load the lot is in').optional(),
    startedAt: moment('Began at').optional(),
  })
  .meta({ title: 'Operation at a lot' })

export const Ended = z.strictObject({ endedAt: moment('Ended at').optional() }).meta({ title: 'End' })

export const MeasurementTaken = z
  .strictObject({
    characteristic: line(
      'What was measured',
      120,
      'Where it answers a requirement of the plan, the id of that. Never a cut of a key, but how far the cut is off',
    ),
    value: z.number().meta({ title: 'Value' }),
    unit: z
      .string()
      .max(20)
      .regex(/^[^\p{Cc}\p{Cs}]*$/u)
      .meta({ title: 'Unit', description: 'Empty for a plain ratio' }),
    gauge: line('Gauge', 60).optional(),
    measuredAt: moment('Measured at').optional(),
    replaces: number('Measurement that this one corrects').optional(),
  })
  .meta({ title: 'Measurement' })
