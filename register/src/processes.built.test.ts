import { spawn } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoDesign, demoOrder, orderOf, temporaryFolder } from './data-folder.testing.ts'

const register = new URL('../dist/index.js', import.meta.url).href

/** Reserves orders one after another in a process of its own and prints the ranges it was given. */
const RESERVES = `
  import { readFileSync } from 'node:fs'
  import { openRegister } from '${register}'
  const [data, file] = process.argv.slice(2)
  const { orders, design } = JSON.parse(readFileSync(file, 'utf8'))
  const register = await openRegister(data, { environment: {} })
  for (const order of orders) {
    const count = order.lines[0].quantity
    const outcome = await register.codes.reserve(order, [design], async ({ known, given }) => {
      const out = known[design.id]?.out ?? ''
      const start = given ? Number(given[0].numbers.split('-')[0]) : out === '' ? 0 : Number(out.split('-').at(-1)) + 1
      const numbers = \`\${start}-\${start + count - 1}\`
      const lines = [{ line: 'A', design: design.id, numbers, passedOver: '' }]
      return { ok: true, value: { order: order.id, keys: [], locks: [], given: lines, notices: [] } }
    }, { actor: 'R. Thorne' })
    const start = Number(outcome.value.given[0].numbers.split('-')[0])
    console.log(JSON.stringify({ order: order.id, start, count }))
  }
  await register.close()
`

async function reserveInProcess(data: string, orders: unknown[], design: unknown) {
  const folder = temporaryFolder()
  const [program, file] = [join(folder, 'reserve.mjs'), join(folder, 'orders.json')]
  writeFileSync(program, RESERVES)
  writeFileSync(file, JSON.stringify({ orders, design }))
  const child = spawn(process.execPath, [program, data, file], { stdio: ['ignore', 'pipe', 'inherit'] })
  const pieces: string[] = []
  child.stdout.setEncoding('utf8').on('data', (piece: string) => pieces.push(piece))
  const status = await new Promise((resolve) => child.once('close', resolve))
  expect(status).toBe(0)
  const lines = pieces.join('').trimEnd().split('\n')
  return lines.map((line) => JSON.parse(line) as { order: string; start: number; count: number })
}

describe('several processes over one data folder', () => {
  it('never give a number twice, and give the same order the same numbers', async () => {
    const data = temporaryFolder()
    const [template, design] = [await demoOrder(), await demoDesign()]
    const order = (id: string, quantity: number) => orderOf(template, id, [{ id: 'A', design: design.id, quantity }])
    const shared = [order('shared-1', 7), order('shared-2', 9)]
    const given = await Promise.all(
      Array.from({ length: 4 }, (_, p) => {
        const own = Array.from({ length: 5 }, (_, i) => order(`p${p}-${i}`, 3 + i))
        return reserveInProcess(data, [...own.slice(0, p), ...shared, ...own.slice(p)], design)
      }),
    )
    const byOrder = new Map(given.flat().map((range) => [range.order, range]))
    for (const range of given.flat()) expect(range).toEqual(byOrder.get(range.order))
    const ranges = [...byOrder.values()].sort((a, b) => a.start - b.start)
    expect(ranges).toHaveLength(22)
    let next = 0
    for (const { start, count } of ranges) {
      expect(start).toBe(next)
      next = start + count
    }
  })
})
