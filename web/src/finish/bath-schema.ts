import { percent, quantity, text } from '@haspwright/engine'
import { z } from 'zod'

/** What of a nickel bath is analysed and can be set right by adding to it. */
export const SUBSTANCES = ['nickel', 'nickelChloride', 'boricAcid'] as const
export type Substance = (typeof SUBSTANCES)[number]
/** What is followed over time: the substances, the pH, and the charge since brightener was added. */
export const FOLLOWED = [...SUBSTANCES, 'pH', 'ampereHours'] as const
export type Followed = (typeof FOLLOWED)[number]

const gPerL = (title: string, help?: string) =>
  quantity(null, 'g/L', title, { min: 0, max: 1000, ...(help === undefined ? {} : { help }) })

/** One analysis of the bath. What was not analysed is left empty. */
export const BathAnalysis = z
  .strictObject({
    date: z.iso.date({ error: 'Write the day as year-month-day, like 2026-01-18.' }).meta({
      title: 'Day of the sample',
      description: 'year-month-day',
    }),
    nickel: gPerL('Nickel', 'as metal').optional(),
    nickelChloride: gPerL('Nickel chloride').optional(),
    boricAcid: gPerL('Boric acid').optional(),
    pH: quantity(null, '', 'pH', { min: 0, max: 14 }).optional(),
    ampereHours: quantity(null, 'Ah', 'Charge since brightener was added', { min: 0, max: 10_000_000 }).optional(),
    note: text('Note', { min: 0, max: 200 }).optional(),
  })
  .refine((analysis) => FOLLOWED.some((name) => analysis[name] !== undefined), {
    path: ['date'],
    error: 'Nothing was analysed: give at least one figure.',
  })
export type BathAnalysis = z.output<typeof BathAnalysis>

const substance = (title: string) =>
  z
    .strictObject({
      lowGPerL: gPerL('At least'),
      highGPerL: gPerL('At most'),
      targetGPerL: quantity(null, 'g/L', 'Target', { min: 0.001, max: 1000 }),
      contentPercent: percent(null, 'Share of the salt that counts', { min: 0.1, max: 100 }),
    })
    .meta({ title })

/** The bath: its volume, and between which limits it is kept. */
export const BathLimits = z.strictObject({
  volumeL: quantity(null, 'L', 'Volume of the bath', { min: 0.1, max: 1_000_000 }),
  brightenerMlPerKAh: quantity(null, 'mL/kAh', 'Brightener used up', { min: 0, max: 100_000 }),
  mostAh: quantity(null, 'Ah', 'Charge between two additions of brightener, at most', { min: 1, max: 10_000_000 }),
  lowPh: quantity(null, '', 'pH, at least', { min: 0, max: 14 }),
  highPh: quantity(null, '', 'pH, at most', { min: 0, max: 14 }),
  nickel: substance('Nickel, as metal'),
  nickelChloride: substance('Nickel chloride'),
  boricAcid: substance('Boric acid'),
})
export type BathLimits = z.output<typeof BathLimits>

/** Common practice (no source) for a bright nickel bath; the supplier's sheet decides. Nickel is added as sulfate with six waters. */
export const PRACTICE_LIMITS: BathLimits = {
  volumeL: 1800,
  brightenerMlPerKAh: 200,
  mostAh: 5000,
  lowPh: 3.8,
  highPh: 4.5,
  nickel: { lowGPerL: 65, highGPerL: 85, targetGPerL: 75, contentPercent: 22.3 },
  nickelChloride: { lowGPerL: 45, highGPerL: 65, targetGPerL: 55, contentPercent: 100 },
  boricAcid: { lowGPerL: 38, highGPerL: 50, targetGPerL: 45, contentPercent: 100 },
}
