import { readFile } from 'node:fs/promises'
import { Design, drillingJob, type JobResult, type MachiningJob, notchingJob, read, Works } from '@haspwright/engine'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkProgram } from './check-program.ts'
import { programText } from './program-text.ts'

const demo = new URL('../../../demo/', import.meta.url)
async function file<T>(schema: Parameters<typeof read>[0], path: string): Promise<T> {
  const reading = read(schema, JSON.parse(await readFile(new URL(path, demo), 'utf8')))
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.value as T
}
const works = await file<Works>(Works, 'works.json')
const designs = [await file<Design>(Design, 'designs/hb50.json'), await file<Design>(Design, 'designs/ry40.json')]

function jobOf(result: JobResult): MachiningJob {
  if (!result.ok) throw new Error(result.because)
  return result.job
}
const jobs = designs.flatMap((design) => [jobOf(drillingJob(design, works)), jobOf(notchingJob(design, works))])
const [body, shackle] = jobs as [MachiningJob, MachiningJob]

const words = (text: string, job: MachiningJob) => {
  const check = checkProgram(text, job)
  return check.ok ? [] : check.issues.map(({ path, message, allowed = '' }) => `${path}: ${message} ${allowed}`)
}

describe('programs of the demo designs', () => {
  it.each(jobs.map((job) => [job.title, job] as const))('%s: replayed, all of it is right', (_, job) => {
    const check = checkProgram(programText(job), job)
    expect(check.ok ? [] : check.issues).toEqual([])
    expect(check.ok && check.report.made).toHaveLength(job.clampings.flatMap(({ features }) => features).length)
  })
})

/** Blocks of a program that hold certain words, by their place among the lines. */
const linesWith = (text: string, pattern: RegExp) =>
  text.split('\n').flatMap((line, i) => (pattern.test(line) ? [i] : []))
const changed = (text: string, at: number, change: (line: string) => string) =>
  text
    .split('\n')
    .map((line, i) => (i === at ? change(line) : line))
    .join('\n')

describe('a program with one fault', () => {
  const good = programText(body)

  it('a moved hole is found, wherever it is and however far over a hundredth (property, fixed seed)', () => {
    // Every tool of a bore goes to its place twice: once to start, once to cut. The second line is moved with all its like.
    const places = [...new Set(good.match(/X-?[\d]+\.\d* Y-?[\d]+\.\d*/g))]
    fc.assert(
      fc.property(
        fc.constantFrom(...places),
        fc.double({ min: 0.011, max: 2, noNaN: true }),
        fc.boolean(),
        (place, off, left) => {
          const [x, y] = place.slice(1).split(' Y').map(Number) as [number, number]
          const moved = good.replaceAll(place, `X${(x + (left ? -off : off)).toFixed(3)} Y${y.toFixed(3)}`)
          expect(words(moved, body).join('\n')).toMatch(/There is no hole at X/)
        },
      ),
      { seed: 71, numRuns: 60 },
    )
  })

  it('a shallow hole is found: the last bite of any bore ends too early (property, fixed seed)', () => {
    // The deepest feed of each bore: the one before the tool is drawn out to the safe height.
    const lines = good.split('\n')
    const last = linesWith(good, /G1 Z-/).filter(
      (i) => /Z50\./.test(lines[i + 1] ?? '') || /G1 Z2\./.test(lines[i + 1] ?? ''),
    )
    const full = last.filter((i) => Number(/Z(-[\d.]+)/.exec(lines[i] ?? '')?.[1]) < -5)
    fc.assert(
      fc.property(fc.constantFrom(...full), fc.double({ min: 1.5, max: 4, noNaN: true }), (at, less) => {
        const shallow = changed(good, at, (line) =>
          line.replace(/Z(-[\d.]+)/, (_, z) => `Z${(Number(z) + less).toFixed(3)}`),
        )
        expect(words(shallow, body).join('\n')).toMatch(/deep at full diameter|not deep enough/)
      }),
      { seed: 72, numRuns: 60 },
    )
  })

  it('a rapid through the stock is found: any feed into the work made a rapid (property, fixed seed)', () => {
    fc.assert(
      fc.property(fc.constantFrom(...linesWith(good, /G1 Z-/)), (at) => {
        expect(
          words(
            changed(good, at, (line) => line.replace('G1 ', 'G0 ')),
            body,
          ).join('\n'),
        ).toMatch(/goes in rapid through the block/)
      }),
      { seed: 73, numRuns: 60 },
    )
  })

  it('a rapid across at the height of the work is found, at every bore', () => {
    for (const at of linesWith(good, /G0 Z50\./).filter((i) => /G0 X/.test(good.split('\n')[i + 2] ?? '')))
      expect(
        words(
          changed(good, at, (line) => line.replace('Z50.', 'Z-3.')),
          body,
        ).join('\n'),
      ).toMatch(/rapid through|goes down to/)
  })

  it('a missing tool call is found, whichever it is', () => {
    for (const at of linesWith(good, /T\d+ M6/)) {
      const found = words(
        changed(good, at, () => ''),
        body,
      ).join('\n')
      expect(found).toMatch(/before any tool is called|it was not called/)
    }
  })

  it('a spindle that stands, turns backward or too fast, and a feed too fast, are found', () => {
    const [turn = 0] = linesWith(good, /S\d+ M3/)
    expect(
      words(
        changed(good, turn, () => ''),
        body,
      ).join('\n'),
    ).toContain('with the spindle standing')
    expect(
      words(
        changed(good, turn, (line) => line.replace('M3', 'M4')),
        body,
      ).join('\n'),
    ).toContain('turning the wrong way')
    expect(
      words(
        changed(good, turn, (line) => line.replace(/S\d+/, 'S9000')),
        body,
      ).join('\n'),
    ).toContain('at 9000 1/min')
    const [feed = 0] = linesWith(good, /F\d/)
    expect(
      words(
        changed(good, feed, (line) => line.replace(/F[\d.]+/, 'F900.')),
        body,
      ).join('\n'),
    ).toContain('at 900 mm/min')
  })

  it('pecks left out are found: the flutes would pack', () => {
    const lines = good.split('\n')
    // Out to clear, back in, on: the three blocks of the second peck of the deepest bore.
    const back = lines.findIndex((line, i) => /G0 Z2\.$/.test(line) && /G0 Z-/.test(lines[i + 1] ?? ''))
    const whole = lines.filter((_, i) => i < back - 1 || i > back + 1).join('\n')
    expect(words(whole, body).join('\n')).toContain('before chips are cleared')
  })

  it('a tool near a jaw, and outside the travel, is found', () => {
    const [first = 0] = linesWith(good, /G0 X/)
    const wild = changed(good, first + 3, (line) => `${line}\nG0 Y13.\nG1 Z-20. F50.\nG0 Z50.\nG0 Y900.`)
    const found = words(wild, body).join('\n')
    expect(found).toContain('of the back jaw')
    expect(found).toContain('outside the travel')
  })

  it('a notch too shallow, too deep, or off its place along the leg is found', () => {
    const notches = programText(shackle)
    const deepest = linesWith(notches, /G1 Y-1\.5 F/)
    expect(deepest).toHaveLength(2)
    for (const at of deepest)
      for (const [y, says] of [
        ['-1.6', 'is 2.65 mm deep'],
        ['-1.4', 'is 2.85 mm deep'],
      ] as const)
        expect(
          words(
            changed(notches, at, (line) => line.replace('Y-1.5', `Y${y}`)),
            shackle,
          ).join('\n'),
        ).toContain(says)
    expect(words(notches.replaceAll('X6. ', 'X6.05 '), shackle).join('\n')).toContain('Nothing is milled at X6')
  })

  it('units in inch, figures from the last place and no end are found', () => {
    expect(words(good.replace('G40 G71', 'G40 G70'), body).length).toBeGreaterThan(5)
    expect(words(good.replace('G40 G71 ', ''), body).join('\n')).toContain('before a unit is stated')
    expect(words(good.replace('G80 G90', 'G80 G91'), body).join('\n')).toContain('counts from the last place')
    expect(words(good.replace(/N\d+ M30/, ''), body).join('\n')).toContain('M30 is missing')
  })
})
