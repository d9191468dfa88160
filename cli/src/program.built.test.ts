import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoFile, fileWith, haspwright, issuesOf, temporaryFolder } from './command-line.testing.ts'

const given = ['--design', demoFile('designs/hb50.json'), '--works', demoFile('works.json')]

describe('haspwright program check', () => {
  it('replays the programs of a plan as printed, and refuses one that was changed by hand', async () => {
    const [out, data] = [temporaryFolder(), temporaryFolder()]
    await haspwright(['plan', demoFile('orders/26-041-harbour.json'), '--out', out, '--quiet'], { data })
    const printed = join(out, 'programs/HB50-drill-body.nc')
    const right = await haspwright(['program', 'check', printed, ...given])
    expect(right).toMatchObject({ status: 0, err: '' })
    expect(right.out).toContain('Barrel bore at X0 Y0')
    const spoilt = readFileSync(printed, 'latin1').replace('G0 Z2.', 'G0 Z-20.')
    const issues = issuesOf(await haspwright(['program', 'check', fileWith(spoilt, 'drill-body.nc'), ...given]))
    expect(issues.map(({ message }) => message).join()).toContain('goes in rapid through the block')
  })

  it('tells everything that is missing or wrong at once', async () => {
    const issues = issuesOf(await haspwright(['program', 'replay', '--works', 'none.json']))
    expect(issues.map(({ path }) => path)).toEqual(['check', 'FILE', '--design'])
    const unread = issuesOf(
      await haspwright(['program', 'check', 'none-drill-body.nc', '--design', 'none.json', '--works', 'no.json']),
    )
    expect(unread).toHaveLength(3)
    const odd = issuesOf(
      await haspwright(['program', 'check', fileWith('N10 G28 X0\nhello', 'drill-body.nc'), ...given]),
    )
    expect(odd).toMatchObject([{ code: 'bad-format' }])
  })
})
