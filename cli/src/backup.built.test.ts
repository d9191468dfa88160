import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { demoJson, fileWith, haspwright, inRegister, issuesOf, temporaryFolder } from './command-line.testing.ts'

const PASSPHRASE = 'nine brass hasps in a row'
const environment = { HASPWRIGHT_PASSPHRASE: PASSPHRASE }

async function dataWithDesign(): Promise<string> {
  const data = temporaryFolder()
  await inRegister(data, ({ designs }) => designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }))
  return data
}

describe('haspwright backup, verify and restore', () => {
  it('carry the register over a file into another data folder, and tell the audit', async () => {
    const [data, other] = [await dataWithDesign(), temporaryFolder()]
    const file = join(temporaryFolder(), 'register.backup')
    const made = await haspwright(['backup', file, '--json'], { data, environment })
    expect(made).toMatchObject({ status: 0, err: '' })
    expect(readFileSync(file).includes('HB50')).toBe(false)
    const key = fileWith(`${PASSPHRASE}\n`, 'passphrase')
    const verified = await haspwright(['verify', file, '--passphrase-file', key])
    expect(JSON.parse(verified.out)).toMatchObject({ whole: true, tables: { designs: 1 }, works: [{ whole: true }] })
    const restored = await haspwright(['restore', file], { data: other, environment })
    expect(JSON.parse(restored.out)).toMatchObject({ audit: [{ works: 'works', whole: true }] })
    expect(await inRegister(other, ({ designs }) => designs.ids())).toEqual(['HB50'])
    const again = await haspwright(['restore', file], { data: other, environment })
    expect(issuesOf(again)[0]?.message).toContain('empty data folder')
  })

  it('refuse without a passphrase, with a short or another one, and repeat none', async () => {
    const data = await dataWithDesign()
    const file = join(temporaryFolder(), 'register.backup')
    expect(issuesOf(await haspwright(['backup', file], { data }))[0]).toMatchObject({ path: 'passphrase' })
    const short = await haspwright(['backup', file], { data, environment: { HASPWRIGHT_PASSPHRASE: 'brasshasp' } })
    expect(issuesOf(short)[0]?.message).toContain('too short')
    expect(existsSync(file)).toBe(false)
    await haspwright(['backup', file], { data, environment })
    const wrong = await haspwright(['verify', file], {
      environment: { HASPWRIGHT_PASSPHRASE: 'ten brass hasps in a row' },
    })
    expect(issuesOf(wrong)[0]?.message).toContain('not the one')
    expect(wrong.err + short.err).not.toMatch(/ten brass|brasshasp/)
    expect(issuesOf(await haspwright(['backup', file], { data, environment }))[0]?.message).toContain('--overwrite')
  })

  it('make nothing in a folder that was never used', async () => {
    const data = temporaryFolder()
    const file = join(data, 'register.backup')
    const ended = await haspwright(['backup', file], { data, embedded: true, environment })
    expect(issuesOf(ended)).toMatchObject([{ path: '--data', code: 'not-found' }])
    writeFileSync(file, 'no backup')
    expect(issuesOf(await haspwright(['restore', file], { data, embedded: true, environment }))[0]?.path).toBe(file)
    expect(readdirSync(data)).toEqual(['register.backup'])
  })
})
