import { setTimeout as wait } from 'node:timers/promises'
import { calculationById, type Waiting } from '@haspwright/engine'
import { describe, expect, it, onTestFinished } from 'vitest'
import { appOver, appWithDemo, ENGINEER_AND_REGISTRAR, harbourDesign, harbourOrder } from '../app.testing.ts'
import type { AppDependencies } from '../app.ts'
import { createClient, type JobListing, ServerRefusal } from '../client.ts'
import { directPlanner, type Planner } from '../planning/planner.ts'

const ASYNC = { prefer: 'respond-async' }
const order = { ...harbourOrder, id: '26-070' }

/** A planner that stops at the first step until it is let on or cancelled. */
function heldPlanner() {
  let isHeld = true
  const held = async (waiting: Waiting = {}) => {
    waiting.progress?.(0.25, 'Setting the furnace')
    while (isHeld && !waiting.signal?.aborted) await wait(10)
  }
  const planner: Planner = {
    ...directPlanner,
    plan: (input, waiting) => held(waiting).then(() => directPlanner.plan(input, waiting)),
    calculate: (input, waiting) => held(waiting).then(() => directPlanner.calculate(input, waiting)),
  }
  return {
    planner,
    letOn: () => {
      isHeld = false
    },
  }
}

/** Another server over the same register. */
async function besides(
  { data, database }: Awaited<ReturnType<typeof appWithDemo>>,
  other: Partial<AppDependencies> = {},
) {
  const bench = await appOver({ data, environment: database.environment }, other)
  onTestFinished(() => bench.register.close())
  return bench
}

const jobIn = async (response: Response | Promise<Response>) => (await (await response).json()) as JobListing

describe('long work', () => {
  it('is answered at once where the caller prefers that, followed to its end, and its answer is the one of the request', async () => {
    const { post, get } = await appWithDemo()
    const accepted = await post('/api/orders', order, ASYNC)
    expect(accepted.status).toBe(202)
    expect(accepted.headers.get('preference-applied')).toBe('respond-async')
    const { id, kind, subject, askedBy } = await jobIn(accepted)
    expect({ kind, subject, askedBy }).toEqual({ kind: 'hand-in', subject: '26-070', askedBy: 'R. Thorne' })
    expect(accepted.headers.get('location')).toBe(`/api/jobs/${id}`)
    const events = await (await get(`/api/jobs/${id}/progress`)).text() // it ends with the job
    expect(events.match(/^event: job$/gm)?.length).toBeGreaterThan(0)
    expect(events).toContain('"state":"done"')
    const answer = await get(`/api/jobs/${id}/answer`)
    expect(answer.status).toBe(201)
    expect(answer.headers.get('location')).toBe('/api/orders/26-070')
    expect(await answer.json()).toMatchObject({ order: { id: '26-070' }, planState: 'current', version: 1 })
  })

  it('is answered with its result where that comes within the seconds the caller waits', async () => {
    const { post } = await appWithDemo()
    const response = await post('/api/orders', order, { prefer: 'respond-async, wait=100' })
    expect(response.status).toBe(201)
    expect(await response.json()).toMatchObject({ planState: 'current' })
  })

  it('shows how far it is and what is being done', async () => {
    const { planner, letOn } = heldPlanner()
    const { post, get } = await appWithDemo({ planner })
    const { id } = await jobIn(post('/api/orders', order, ASYNC))
    const shown: JobListing[] = []
    const { body } = await get(`/api/jobs/${id}/progress`)
    for await (const piece of (body ?? new ReadableStream()).pipeThrough(new TextDecoderStream())) {
      for (const [, data] of piece.matchAll(/^data: (.*)$/gm)) shown.push(JSON.parse(data ?? '') as JobListing)
      if (shown.at(-1)?.doing === 'Setting the furnace') letOn()
    }
    expect(shown.map(({ share }) => share)).toContain(0.25)
    expect(shown.at(-1)).toMatchObject({ state: 'done', share: 1 })
    expect((await get(`/api/jobs/${id}/answer`)).status).toBe(201)
  })

  it('is cancelled: nothing is stored, no code is given out, and whoever waits is told', async () => {
    const { planner } = heldPlanner()
    const { post, get, app, register } = await appWithDemo({ planner })
    const before = await register.codes.givenOut(harbourDesign)
    const waiting = post('/api/orders', order)
    let job: JobListing | undefined
    while (job?.state !== 'working')
      job = ((await (await get('/api/jobs')).json()) as { jobs: JobListing[] }).jobs.find(
        ({ subject }) => subject === '26-070',
      )
    const cancelled = await app.request(`/api/jobs/${job.id}`, { method: 'DELETE' })
    expect(await cancelled.json()).toMatchObject({ cancelAsked: true })
    const answered = await waiting
    expect(answered.status).toBe(409)
    expect(await answered.text()).toContain('This was cancelled')
    expect((await get(`/api/jobs/${job.id}/answer`)).status).toBe(409)
    expect((await get('/api/orders/26-070')).status).toBe(404)
    expect(await register.codes.givenOut(harbourDesign)).toEqual(before)
  })

  it('is asked for by several, done once, and answers them all', async () => {
    let printed = 0
    const planner: Planner = {
      ...directPlanner,
      papers: (input, waiting) => {
        printed++
        return directPlanner.papers(input, waiting)
      },
    }
    const { get } = await appWithDemo({ planner })
    const answers = await Promise.all([1, 2, 3].map(() => get('/api/orders/26-041/papers')))
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200])
    expect(printed).toBe(1)
  })

  it('of one number is done one after another, so that nobody is given what another handed in', async () => {
    const { post } = await appWithDemo()
    const other = { ...order, customer: { name: 'Quay Stores' } }
    const [one, two] = await Promise.all([post('/api/orders', order), post('/api/orders', other)])
    expect([one.status, two.status].sort()).toEqual([201, 409])
  })

  it('that breaks is told by a reference, and the log has the cause without its words', async () => {
    const planner: Planner = { ...directPlanner, plan: () => Promise.reject(new Error('cuts 4-1-3')) }
    const { post, logged, get } = await appWithDemo({ planner })
    const answered = await post('/api/orders', order)
    expect(answered.status).toBe(500)
    expect(await answered.json()).toMatchObject({ fault: { reference: expect.stringMatching(/^F-/) } })
    expect(logged.join('\n')).toContain('job hand-in')
    expect(logged.join('\n')).not.toContain('4-1-3')
    const { jobs } = (await (await get('/api/jobs')).json()) as { jobs: JobListing[] }
    expect(jobs.find(({ subject }) => subject === '26-070')).toMatchObject({ state: 'failed' })
  })

  it('is given back by a server that stops, and done by the next', async () => {
    const { planner } = heldPlanner()
    const bench = await appWithDemo({ planner })
    const { id } = await jobIn(bench.post('/api/orders', order, ASYNC))
    for await (const job of bench.desk.follow(id)) if (job.state === 'working') break
    await bench.desk.close()
    expect(await bench.desk.find(id)).toMatchObject({ state: 'waiting' })
    const next = await besides(bench)
    next.desk.onAsked()
    for await (const job of next.desk.follow(id)) expect(['waiting', 'working', 'done']).toContain(job.state)
    const answer = await next.get(`/api/jobs/${id}/answer`)
    expect(answer.status).toBe(201)
  })

  it('that is not there, or not over yet, is said so', async () => {
    const { planner, letOn } = heldPlanner()
    const { get, post, app } = await appWithDemo({ planner })
    for (const path of ['/api/jobs/none', '/api/jobs/none/progress', '/api/jobs/none/answer'])
      expect((await get(path)).status).toBe(404)
    expect((await app.request('/api/jobs/none', { method: 'DELETE' })).status).toBe(404)
    const { id } = await jobIn(post('/api/orders', order, ASYNC))
    const early = await get(`/api/jobs/${id}/answer`)
    expect(early.status).toBe(409)
    expect(await early.text()).toContain('still being worked at')
    letOn()
    await (await get(`/api/jobs/${id}/progress`)).text()
  })

  it('of a calculation is its asker’s alone, and stops when they leave', async () => {
    const { planner, letOn } = heldPlanner()
    const bench = await appWithDemo({ planner })
    const { post, get, app } = bench
    const input = calculationById('body.cut-plan')?.examples[0].input
    const { id } = await jobIn(post('/api/calc/body.cut-plan', input, ASYNC))
    const other = await besides(bench, { whoCalls: async () => ({ ...ENGINEER_AND_REGISTRAR, id: 'p-other' }) })
    expect((await other.get(`/api/jobs/${id}`)).status).toBe(404)
    expect(await (await other.get('/api/jobs')).text()).not.toContain(id)
    const leaving = new AbortController()
    const left = app.request('/api/calc/body.cut-plan', {
      ...{ method: 'POST', body: JSON.stringify(input), headers: { 'content-type': 'application/json' } },
      signal: leaving.signal,
    })
    let leftJob = (await bench.desk.newest(1))[0]
    while (leftJob?.id === id) leftJob = (await bench.desk.newest(1))[0] // until it has been asked for
    leaving.abort()
    expect((await left).status).toBe(409)
    expect(await bench.desk.find(leftJob?.id ?? '')).toMatchObject({ state: 'cancelled' })
    letOn()
    await (await get(`/api/jobs/${id}/progress`)).text()
    expect(await (await get(`/api/jobs/${id}/answer`)).json()).toHaveProperty('bars')
  })

  it('of others is not shown to a service account, which waits where it could not follow', async () => {
    const bench = await appWithDemo()
    const { id } = await jobIn(bench.post('/api/orders', order, ASYNC))
    await (await bench.get(`/api/jobs/${id}/progress`)).text()
    const asService = (scopes: readonly string[]) =>
      besides(bench, { whoCalls: async () => ({ kind: 'service', id: 's-1', name: 'Order desk', scopes }) })
    const writer = await asService(['orders:write'])
    for (const path of [`/api/jobs/${id}`, `/api/jobs/${id}/answer`, `/api/jobs/${id}/progress`])
      expect((await writer.get(path)).status).toBe(404)
    expect(await (await writer.get('/api/jobs')).json()).toEqual({ jobs: [] })
    const own = await jobIn(writer.post('/api/orders', { ...order, id: '26-071' }, ASYNC))
    await (await writer.get(`/api/jobs/${own.id}/progress`)).text()
    expect((await writer.get(`/api/jobs/${own.id}/answer`)).status).toBe(201)
    const reader = await asService(['papers:read'])
    const papers = await reader.get('/api/orders/26-070/papers', ASYNC)
    expect(papers.status).toBe(200)
    expect(await papers.json()).toHaveProperty('papers')
  })

  it('is followed by the typed client, which tells how far it is and stops it when asked', async () => {
    const { planner, letOn } = heldPlanner()
    const { app } = await appWithDemo({ planner })
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const leaving = new AbortController()
    const told: string[] = []
    const watch = {
      signal: leaving.signal,
      progress: ({ doing }: JobListing) => {
        told.push(doing)
        if (doing === 'Setting the furnace') leaving.abort()
      },
    }
    await expect(client.submitOrder(order, undefined, watch)).rejects.toBeInstanceOf(ServerRefusal)
    expect(told).toContain('Setting the furnace')
    letOn()
    const planned = await client.submitOrder(order, undefined, { progress: () => {} })
    expect(planned).toMatchObject({ order: { id: '26-070' }, planState: 'current' })
    expect((await client.listJobs()).map(({ state }) => state)).toEqual(expect.arrayContaining(['done', 'cancelled']))
  })
})
