import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel } from '../caution.ts'
import { formatNumber } from '../display.ts'
import { type Issue, Refusal } from '../issue.ts'
import { choice, count, list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { longest, pairs, spreadIn, stretchesWithin } from './soak-window.ts'

const recordByHand = source({
  id: 'practice.furnace-record',
  status: 'common practice (no source)',
  citation:
    'Reading a furnace record: straight between readings, at temperature only while every couple is in the window',
  note: 'All limits come from the recipe. Worked by hand for the examples.',
})

/** Readings nearer to each other than this say nothing of a rate. */
const LEAST_STEP_MINUTES = 0.001

const VERDICTS = ['accepted', 'rejected', 'not known'] as const
const CHECKS = ['holds', 'falls short', 'not known'] as const
type Check = (typeof CHECKS)[number]

const temperature = (title: string) => quantity(String.raw`\vartheta`, '°C', title, { min: -100, max: 1400 })

const recipeField = z
  .strictObject({
    setC: quantity(null, '°C', 'Set temperature', { min: 0, max: 1400 }),
    minusK: quantity(null, 'K', 'Window below it', { min: 0, max: 200 }),
    plusK: quantity(null, 'K', 'Window above it', { min: 0, max: 200 }),
    soakMinutes: quantity(null, 'min', 'Time at temperature asked for', { min: 0, max: 100_000 }),
    maxSpreadK: quantity(null, 'K', 'Couples apart at most', { min: 0, max: 500 }),
    maxOvershootK: quantity(null, 'K', 'Above the set temperature at most', { min: 0, max: 500 }),
    maxGapMinutes: quantity(null, 'min', 'Longest gap between readings', { min: 0.01, max: 1000 }),
    maxHeatRateKPerMin: quantity(null, 'K/min', 'Fastest heating', { min: 0.01, max: 10_000 }).optional(),
    quench: z
      .strictObject({
        couple: text('Couple on the load', { max: 60 }),
        belowC: quantity(null, '°C', 'Quenched when below', { min: 0, max: 1000 }),
        maxSeconds: quantity(null, 's', 'Longest from leaving the window to below it', { min: 0.1, max: 10_000 }),
      })
      .optional()
      .meta({ title: 'Quench' }),
  })
  .meta({ title: 'Recipe' })

const recordFields = z.strictObject({
  couples: list('Couples', text('Couple', { max: 60 }), { max: 12 }),
  readings: list(
    'Readings',
    z.strictObject({
      minutes: quantity('t', 'min', 'Time', { min: 0, max: 1e6 }),
      temperaturesC: z
        .array(temperature('Temperature').nullable())
        .min(1)
        .max(12)
        .meta({ title: 'Temperature of each couple' }),
    }),
    { min: 2, max: 20_000 },
  ),
  recipe: recipeField,
})
type Input = z.output<typeof recordFields>

const sixReadings = [
  { minutes: 0, temperaturesC: [20, 20] },
  { minutes: 30, temperaturesC: [740, 720] },
  { minutes: 40, temperaturesC: [845, 835] },
  { minutes: 60, temperaturesC: [852, 846] },
  { minutes: 80, temperaturesC: [850, 848] },
  { minutes: 80.5, temperaturesC: [850, 100] },
]
const handRecipe = {
  setC: 850,
  minusK: 15,
  plusK: 15,
  soakMinutes: 30,
  maxSpreadK: 12,
  maxOvershootK: 10,
  maxGapMinutes: 40,
}

/** What a furnace log says of a charge, held against its recipe. */
export const furnaceRecord = calculation({
  id: 'heat.furnace-record',
  title: 'Furnace record against the recipe',
  summary:
    'Time at temperature, spread between couples, overshoot, heating rate and quench delay from a temperature log, each held against the recipe, with a verdict and its reasons.',
  assumes: [
    'straight between two readings',
    'at temperature only while every couple lies in the window, and not across a gap',
  ],
  sources: [recordByHand],
  cautions: [hotSteel],
  input: recordFields,
  output: z.strictObject({
    verdict: choice('Verdict', VERDICTS),
    atTemperatureMinutes: quantity(null, 'min', 'Longest at temperature without a break'),
    fromMinute: quantity(null, 'min', 'from').optional(),
    toMinute: quantity(null, 'min', 'to').optional(),
    totalAtTemperatureMinutes: quantity(null, 'min', 'At temperature in all'),
    spreadK: quantity(null, 'K', 'Couples apart, at temperature').optional(),
    hottestC: quantity(null, '°C', 'Hottest reading').optional(),
    overshootK: quantity(null, 'K', 'Above the set temperature').optional(),
    heatRateKPerMin: quantity(null, 'K/min', 'Fastest heating between two readings').optional(),
    quenchSeconds: quantity(null, 's', 'From leaving the window to quenched').optional(),
    longestGapMinutes: quantity(null, 'min', 'Longest gap between readings'),
    missingReadings: count('Readings a couple did not give', { min: 0 }),
    checks: list(
      'Checks',
      z.strictObject({
        what: text('What'),
        required: text('Required'),
        found: text('Found'),
        verdict: choice('Verdict', CHECKS),
      }),
      { max: 10 },
    ),
  }),
  examples: [
    {
      title: 'two couples reach 835 °C after 40 min and leave at 80 min: 40 min at 850 ± 15 °C (by hand)',
      source: recordByHand,
      input: { couples: ['Roof', 'Load'], readings: sixReadings, recipe: handRecipe },
      output: { verdict: 'accepted', fromMinute: 40, spreadK: 10, overshootK: 2, atTemperatureMinutes: 40.0087 },
      tolerance: { absolute: 1e-3 },
      reason: 'the load leaves the window 13/748 of half a minute after the 80th minute',
    },
  ],
  run({ couples, readings, recipe }) {
    const wrong = inconsistent(couples, readings, recipe.quench?.couple)
    if (wrong.length > 0) return new Refusal(wrong)
    const { setC, minusK, plusK, maxGapMinutes } = recipe
    const window = { lowC: setC - minusK, highC: setC + plusK, maxGapMinutes }
    const stretches = stretchesWithin(readings, window)
    const soak = longest(stretches)
    const all = readings.flatMap(({ temperaturesC }) => temperaturesC)
    const given = all.filter((t) => t !== null)
    const hottestC = given.reduce<number | undefined>(
      (most, t) => (most === undefined || t > most ? t : most),
      undefined,
    )
    const overshootK = hottestC === undefined ? undefined : Math.max(0, hottestC - setC)
    const heatRateKPerMin = fastestHeating(readings)
    const quenchSeconds =
      recipe.quench === undefined ? undefined : quenchDelay(couples, readings, window, recipe.quench)
    const longestGapMinutes = pairs(readings).reduce((most, [a, b]) => Math.max(most, b.minutes - a.minutes), 0)
    const found = {
      atTemperatureMinutes: soak === undefined ? 0 : soak.toMinutes - soak.fromMinutes,
      spreadK: soak === undefined ? undefined : spreadIn(readings, soak),
      overshootK,
      heatRateKPerMin,
      quenchSeconds,
      longestGapMinutes,
    }
    const checks = checksOf(recipe, found)
    const defined = Object.fromEntries(
      Object.entries({ ...found, hottestC }).filter(([, value]) => value !== undefined),
    )
    return {
      ...(defined as { [K in keyof typeof found]: number }),
      ...(soak === undefined ? {} : { fromMinute: soak.fromMinutes, toMinute: soak.toMinutes }),
      totalAtTemperatureMinutes: stretches.reduce((sum, s) => sum + s.toMinutes - s.fromMinutes, 0),
      missingReadings: all.length - given.length,
      checks,
      verdict: checks.some(({ verdict }) => verdict === 'falls short')
        ? ('rejected' as const)
        : checks.some(({ verdict }) => verdict === 'not known')
          ? ('not known' as const)
          : ('accepted' as const),
    }
  },
  working:
    'Between two readings each temperature runs straight; the time counts while every couple lies in the window of the recipe, and not across a gap longer than the recipe allows. Each figure is then held against the recipe.',
})

/** What makes the readings contradict each other or the couples. */
function inconsistent(couples: Input['couples'], readings: Input['readings'], onLoad: string | undefined): Issue[] {
  const issues: Issue[] = readings.flatMap(({ minutes, temperaturesC }, i): Issue[] => {
    const before = readings[i - 1]
    return [
      ...(temperaturesC.length === couples.length
        ? []
        : [
            {
              path: `readings[${i}].temperaturesC`,
              code: 'contradiction' as const,
              message: 'A reading holds a temperature for each couple.',
              value: temperaturesC.length,
              allowed: `${couples.length} temperatures`,
            },
          ]),
      ...(before === undefined || minutes - before.minutes >= LEAST_STEP_MINUTES
        ? []
        : [
            {
              path: `readings[${i}].minutes`,
              code: 'contradiction' as const,
              message: 'Each reading must be later than the one before.',
              value: minutes,
              allowed: `at least ${before.minutes + LEAST_STEP_MINUTES} min`,
            },
          ]),
    ]
  })
  if (onLoad !== undefined && !couples.includes(onLoad))
    issues.push({
      path: 'recipe.quench.couple',
      code: 'not-found',
      message: 'The log has no couple of this name.',
      value: onLoad,
      allowed: couples.join(', '),
    })
  return issues.slice(0, 100)
}

function fastestHeating(readings: Input['readings']): number | undefined {
  const rates = pairs(readings).flatMap(([a, b]) =>
    a.temperaturesC.flatMap((start, i) => {
      const end = b.temperaturesC[i]
      return start === null || end === null || end === undefined ? [] : [(end - start) / (b.minutes - a.minutes)]
    }),
  )
  // Thousands of rates: a spread into Math.max could overflow the stack.
  return rates.length === 0 ? undefined : rates.reduce((most, rate) => Math.max(most, rate), 0)
}

/** Seconds from the load's couple last leaving the window to it being quenched; unknown when the log does not show both. */
function quenchDelay(
  couples: Input['couples'],
  readings: Input['readings'],
  window: { lowC: number; highC: number; maxGapMinutes: number },
  { couple, belowC }: { couple: string; belowC: number },
): number | undefined {
  const index = couples.indexOf(couple)
  const own = readings.map(({ minutes, temperaturesC }) => ({ minutes, temperaturesC: [temperaturesC[index] ?? null] }))
  const left = stretchesWithin(own, window).at(-1)?.toMinutes
  if (left === undefined) return undefined
  for (const [a, b] of pairs(own)) {
    const [start, end] = [a.temperaturesC[0], b.temperaturesC[0]]
    if (b.minutes <= left || start == null || end == null || end > belowC || start <= belowC) continue
    const at = a.minutes + ((start - belowC) / (start - end)) * (b.minutes - a.minutes)
    if (at >= left) return (at - left) * 60
  }
  return undefined
}

interface Found {
  readonly atTemperatureMinutes: number
  readonly spreadK: number | undefined
  readonly overshootK: number | undefined
  readonly heatRateKPerMin: number | undefined
  readonly quenchSeconds: number | undefined
  readonly longestGapMinutes: number
}

function checksOf(recipe: Input['recipe'], found: Found) {
  const { soakMinutes, maxSpreadK, maxOvershootK, maxGapMinutes, maxHeatRateKPerMin, quench } = recipe
  const check = (what: string, unit: string, value: number | undefined, limit: number, least = false) => ({
    what,
    required: `${least ? 'at least' : 'at most'} ${formatNumber(limit)} ${unit}`,
    found: value === undefined ? 'the log does not show it' : `${formatNumber(value)} ${unit}`,
    verdict: (value === undefined
      ? 'not known'
      : (least ? value >= limit : value <= limit)
        ? 'holds'
        : 'falls short') as Check,
  })
  return [
    check('Time at temperature', 'min', found.atTemperatureMinutes, soakMinutes, true),
    check('Spread between couples', 'K', found.spreadK, maxSpreadK),
    check('Overshoot', 'K', found.overshootK, maxOvershootK),
    check('Longest gap between readings', 'min', found.longestGapMinutes, maxGapMinutes),
    ...(maxHeatRateKPerMin === undefined
      ? []
      : [check('Heating rate', 'K/min', found.heatRateKPerMin, maxHeatRateKPerMin)]),
    ...(quench === undefined
      ? []
      : [check('From leaving the window to quenched', 's', found.quenchSeconds, quench.maxSeconds)]),
  ]
}
