import { z } from 'zod'
import { answer } from '../calculation.ts'
import { type Finding, finding } from '../finding.ts'
import { furnaceRecord } from '../heat/furnace-record.ts'
import type { Issue } from '../issue.ts'
import { quantity, text } from '../quantity.ts'
import { read } from '../reading.ts'

const { couples, readings, recipe } = furnaceRecord.input.shape

/** What the furnace wrote of one load, with what it is held against: plain data that goes with the load wherever it is kept. */
export const LoadRecord = z
  .strictObject({
    schema: z.literal('haspwright/load-record/1').meta({ title: 'File format' }),
    load: text('Load', { max: 60 }),
    design: text('Design whose shackles were in it', { max: 16 }),
    treatment: z.enum(['hardening', 'tempering']).meta({ title: 'Treatment' }),
    couples,
    readings,
    recipe,
    /** Timed with a watch, where no couple went into the bath with the load. */
    transferSeconds: quantity(null, 's', 'From leaving the furnace into the bath, timed', {
      min: 0.1,
      max: 600,
    }).optional(),
  })
  .meta({ title: 'Record of a furnace load' })
export type LoadRecord = z.output<typeof LoadRecord>

/** A value that a load measured, beside the row of the plan that predicted it. */
export interface MeasuredRow {
  readonly load: string
  /** The row of the plan. */
  readonly finding: string
  readonly value: number
  /** The same requirement held against what was measured. */
  readonly judged: Finding
}

export type JudgedLoad =
  | { readonly ok: false; readonly issues: readonly Issue[] }
  | {
      readonly ok: true
      readonly record: LoadRecord
      /** The load as a whole: every check of its recipe. */
      readonly verdict: 'accepted' | 'rejected' | 'not known'
      readonly checks: readonly {
        readonly what: string
        readonly required: string
        readonly found: string
        readonly verdict: 'holds' | 'falls short' | 'not known'
      }[]
      readonly measured: readonly MeasuredRow[]
    }

/**
 * Reads the record of a load, judges it, and sets what it measured beside the predictions of a plan. Rows whose limit is not known are
 * left out: nothing can be held against them.
 * @param findings of the plan that the load belongs to
 */
export function judgeLoad(file: unknown, findings: readonly Finding[]): JudgedLoad {
  const reading = read(LoadRecord, file)
  if (!reading.ok) return reading
  const record = reading.value
  const judged = answer(furnaceRecord, { couples: record.couples, readings: record.readings, recipe: record.recipe })
  if (!judged.ok) return judged
  const { verdict, checks } = judged.output
  const values: MeasuredValues = record.treatment === 'hardening' ? hardeningValues(record, judged.output) : {}
  return {
    ok: true,
    record,
    verdict,
    checks,
    measured: Object.entries(values).flatMap(([key, value]) => {
      const id = `${record.design}/harden/${key}`
      const row = findings.find((each) => each.id === id)
      return value === undefined || row === undefined ? [] : measuredRow(record, row, value, judged.notices)
    }),
  }
}

type Judged = z.output<typeof furnaceRecord.output>

/** What a record tells of the rows of the plan, by their key; what it does not show is absent. */
type MeasuredValues = Readonly<Record<string, number | undefined>>

function hardeningValues(
  { readings: all, recipe: { setC }, transferSeconds }: LoadRecord,
  found: Judged,
): MeasuredValues {
  const { fromMinute, toMinute, quenchSeconds } = found
  const soaked =
    fromMinute === undefined || toMinute === undefined
      ? []
      : all
          .filter(({ minutes }) => minutes >= fromMinute && minutes <= toMinute)
          .flatMap(({ temperaturesC }) => temperaturesC)
          .filter((t) => t !== null)
  const farthest = soaked.reduce((most, t) => Math.max(most, Math.abs(t - setC)), 0)
  return {
    uniformity: soaked.length === 0 ? undefined : farthest,
    // A watch times the way itself; a couple on the load also counts the first cooling in the bath, and so lies on the strict side.
    transfer: transferSeconds ?? quenchSeconds,
  }
}

function measuredRow(record: LoadRecord, row: Finding, value: number, notices: readonly string[]): MeasuredRow[] {
  const { limit } = row
  if (limit === null) return []
  const { verdict: _, predicted: __, unknownBecause: ___, evidence: ____, ...requirement } = row
  return [
    {
      load: record.load,
      finding: row.id,
      value,
      judged: finding(
        { ...requirement, limit },
        {
          predicted: { value },
          evidence: {
            calculation: furnaceRecord.id,
            input: { load: record.load, treatment: record.treatment, recipe: record.recipe },
            working: `Measured in load ${record.load}, from the readings while every couple was at temperature.`,
            sources: furnaceRecord.sources,
            notices,
          },
          ...(row.consequence === undefined
            ? {}
            : { remedy: `Hold load ${record.load}: ${row.consequence}. Harden it again or measure every lot in it.` }),
        },
      ),
    },
  ]
}
