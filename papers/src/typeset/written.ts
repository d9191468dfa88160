import { formatFixed, formatNumber, type Source, type WorkingStep } from '@haspwright/engine'
import { type Formula, formula } from './formula.ts'

/** What the engine gives, as a sheet prints it. */

/** A number in two halves, before and from its point. */
export interface SplitNumber {
  readonly whole: string
  readonly rest: string
}

export function split(text: string): SplitNumber {
  const point = text.search(/[.]|(?: ×)/)
  return point < 0 ? { whole: text, rest: '' } : { whole: text.slice(0, point), rest: text.slice(point) }
}

export function splitNumber(value: number, decimals?: number): SplitNumber {
  return split(decimals === undefined ? formatNumber(value) : formatFixed(value, decimals))
}

export interface WrittenStep {
  readonly finds: string
  readonly formula: Formula
  readonly filled: Formula
}

export function writtenWorking(working: readonly WorkingStep[]): WrittenStep[] {
  return working.map((step) => ({ finds: step.finds, formula: formula(step.formula), filled: formula(step.filled) }))
}

export interface WrittenSource {
  readonly citation: string
  readonly place: string
  readonly status: string
}

/** Each source once, in the order they are first leaned on. */
export function writtenSources(sources: readonly Source[]): WrittenSource[] {
  const seen = new Map(sources.map((source) => [`${source.id} ${source.place ?? ''}`, source]))
  return [...seen.values()].map(({ citation, place = '', status }) => ({ citation, place, status }))
}

/** `2026-01-18` as a person writes it: `18 January 2026`. */
export function writtenDay(day: string): string {
  const [year = '', month = '', date = ''] = day.split('-')
  const name = MONTHS[Number(month) - 1]
  return name === undefined ? day : `${Number(date)} ${name} ${year}`
}
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const
