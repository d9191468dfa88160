import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { openRegister } from '../open-register.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'
import type { NewJob } from './job.ts'

const thorne = { id: 'p-thorne', name: 'R. Thorne' }
const CUTS = '4-1-3-0-2-5'
const chart = (workKey = 'chart'): NewJob => ({
  ...{ kind: 'calculation', subject: 'codes.chart', workKey, asker: thorne },
  request: { cuts: CUTS },
})

onEveryServer((databases) => {
  async function opened(worksId = someWorks(), database: TestDatabase = databases.shared) {
    const data = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
    onTestFinished(() => rmSync(data, { recursive: true, force: true }))
    const environment = { ...database.environment, HASPWRIGHT_WORKS_KEY: 'c0ffee0ddba11dead5ea1ed0b5e55ed1' }
    const register = await openRegister(data, { environment, worksId })
    onTestFinished(() => register.close())
    return { ...register, worksId, database }
  }
  /** As if the worker had gone silent: nothing reported for a minute. */
  async function silenced({ worksId, database }: { worksId: string; database: TestDatabase }) {
    const administrator = await database.administrator()
    await administrator.query(`UPDATE jobs SET seen_at = now() - interval '1 minute' WHERE works_id = $1`, [worksId])
    await administrator.end()
  }

  describe('long work', () => {
    it('is handed to one worker, reports, and is answered', async () => {
      const { jobs } = await opened()
      const { id } = (await jobs.ask(chart())).job
      const taken = await jobs.take()
      expect(taken).toMatchObject({ id, kind: 'calculation', subject: 'codes.chart', request: { cuts: CUTS } })
      expect(await jobs.take()).toBeUndefined()
      expect(await taken?.report(0.5, 'Counting')).toBe('go on')
      expect(await jobs.find(id)).toMatchObject({ state: 'working', share: 0.5, doing: 'Counting', asker: thorne })
      expect(await jobs.answer(id)).toBeUndefined()
      expect(await taken?.finish({ rows: 3 })).toBe(true)
      expect(await jobs.find(id)).toMatchObject({ state: 'done', share: 1 })
      expect(await jobs.answer(id)).toEqual({ answer: { rows: 3 } })
    })

    it('is done once for all who ask while it is under way, and anew for who asks later', async () => {
      const { jobs } = await opened()
      const asked = await Promise.all(Array.from({ length: 8 }, () => jobs.ask(chart())))
      expect(new Set(asked.map(({ job }) => job.id)).size).toBe(1)
      expect(asked.filter(({ isNew }) => isNew)).toHaveLength(1)
      expect(await jobs.ask(chart('another'))).toMatchObject({ isNew: true })
      await (await jobs.take())?.finish(null)
      expect(await jobs.ask(chart())).toMatchObject({ isNew: true })
    })

    it('reaches each of many workers once', async () => {
      const { jobs, worksId } = await opened()
      const { jobs: elsewhere } = await opened(worksId)
      const ids = await Promise.all(
        Array.from({ length: 12 }, (_, i) => jobs.ask(chart(`chart ${i}`)).then(({ job }) => job.id)),
      )
      const takeAll = async (book: typeof jobs) => {
        const taken: string[] = []
        for (let job = await book.take(); job !== undefined; job = await book.take()) taken.push(job.id)
        return taken
      }
      const taken = await Promise.all([jobs, elsewhere, jobs, elsewhere].map(takeAll))
      expect(taken.flat().sort()).toEqual(ids.sort())
    })

    it('of another works is not seen', async () => {
      const [here, there] = [await opened(), await opened()]
      const { id } = (await here.jobs.ask(chart())).job
      expect(await there.jobs.find(id)).toBeUndefined()
      expect(await there.jobs.take()).toBeUndefined()
      expect(await there.jobs.cancel(id)).toBeUndefined()
      expect(await here.jobs.take()).toMatchObject({ id })
    })

    it('goes to another worker when its own is silent, whose late answer does not count', async () => {
      const bench = await opened()
      const { id } = (await bench.jobs.ask(chart())).job
      const silent = await bench.jobs.take()
      await bench.jobs.tidy()
      expect(await bench.jobs.take()).toBeUndefined() // it was heard of a moment ago
      await silenced(bench)
      await bench.jobs.tidy()
      const again = await bench.jobs.take()
      expect(again?.id).toBe(id)
      expect(await silent?.report(0.9, '')).toBe('lost')
      expect(await silent?.finish('late')).toBe(false)
      expect(await silent?.giveBack()).toBe(false)
      expect(await again?.finish('in time')).toBe(true)
      expect(await bench.jobs.answer(id)).toEqual({ answer: 'in time' })
    })

    it('that ends every worker has failed after the third', async () => {
      const bench = await opened()
      const { id } = (await bench.jobs.ask(chart())).job
      for (let attempt = 1; attempt <= 3; attempt++) {
        expect(await bench.jobs.take()).toMatchObject({ id })
        await silenced(bench)
        await bench.jobs.tidy()
      }
      expect(await bench.jobs.take()).toBeUndefined()
      expect(await bench.jobs.find(id)).toMatchObject({ state: 'failed' })
    })

    it('is given back by a worker that stops, as often as one stops', async () => {
      const { jobs } = await opened()
      const { id } = (await jobs.ask(chart())).job
      for (let times = 0; times < 5; times++) expect(await (await jobs.take())?.giveBack()).toBe(true)
      expect(await jobs.find(id)).toMatchObject({ state: 'waiting', share: 0 })
      expect(await jobs.take()).toMatchObject({ id })
    })

    it('is cancelled at once while it waits, and told to stop while it is worked at', async () => {
      const { jobs } = await opened()
      const waiting = (await jobs.ask(chart())).job
      expect(await jobs.cancel(waiting.id)).toMatchObject({ state: 'cancelled' })
      expect(await jobs.take()).toBeUndefined()
      const working = (await jobs.ask(chart())).job
      const taken = await jobs.take()
      expect(await jobs.cancel(working.id)).toMatchObject({ state: 'working', cancelAsked: true })
      expect(await taken?.report(0.1, '')).toBe('cancel')
      expect(await taken?.end('cancelled')).toBe(true)
      expect(await jobs.cancel(working.id)).toMatchObject({ state: 'cancelled' }) // it stays as it ended
      expect(await jobs.answer(working.id)).toBeUndefined()
    })

    it('whose cancelling was asked is not given to another when its worker goes away', async () => {
      const bench = await opened()
      const { id } = (await bench.jobs.ask(chart())).job
      await bench.jobs.take()
      await bench.jobs.cancel(id)
      await silenced(bench)
      await bench.jobs.tidy()
      expect(await bench.jobs.find(id)).toMatchObject({ state: 'cancelled' })
    })

    it('that a person waits for goes before other', async () => {
      const { jobs } = await opened()
      await jobs.ask(chart('first'))
      const urgent = (await jobs.ask({ ...chart('second'), isUrgent: true })).job
      expect(await jobs.take()).toMatchObject({ id: urgent.id })
    })

    it('shows who stole the database neither what was asked nor what was answered', async () => {
      const { jobs, worksId } = await opened()
      const { id } = (await jobs.ask(chart())).job
      await (await jobs.take())?.finish({ key: CUTS })
      expect(await jobs.answer(id)).toEqual({ answer: { key: CUTS } })
      const rows = (await databases.shared.everything(worksId)).join('\n')
      expect(rows).toContain(id)
      expect(rows).not.toContain(CUTS)
      expect(rows).not.toContain(Buffer.from(CUTS).toString('hex'))
    })

    it('is made ready by servers that start at once over an empty database', async () => {
      const database = await databases.newDatabase()
      const works = Array.from({ length: 4 }, someWorks)
      const asked = await Promise.all(works.map(async (worksId) => (await opened(worksId, database)).jobs.ask(chart())))
      expect(asked.map(({ job }) => job.state)).toEqual(['waiting', 'waiting', 'waiting', 'waiting'])
    })
  })
})
