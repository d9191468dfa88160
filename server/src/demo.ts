import { readdir } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { Design, read, Works } from '@haspwright/engine'
import { type Actor, type Register, readJsonFile, WORKS_ID } from '@haspwright/register'
import type { z } from 'zod'
import type { OrderPlans } from './order-plans.ts'

/** Who hands in the invented works. */
const DEMO: Actor = 'the demo'
const folder = dirname(createRequire(import.meta.url).resolve('@haspwright/demo/works.json'))

/** Is there nothing in the register yet? */
export async function isEmpty(register: Register): Promise<boolean> {
  const ids = await Promise.all([register.designs.ids(), register.orders.ids(), register.works.ids()])
  return ids.flat().length === 0
}

/** Puts the invented works with its designs into the register and hands in its orders, each planned as any other. */
export async function loadDemo(register: Register, orders: OrderPlans): Promise<void> {
  await register.works.save(WORKS_ID, await demoFile(Works, 'works.json'), { actor: DEMO, expected: 0 })
  for (const file of await filesIn('designs')) {
    const design = await demoFile(Design, file)
    await register.designs.save(design.id, design, { actor: DEMO, expected: 0 })
  }
  for (const file of await filesIn('orders')) {
    const asking = { asker: { id: DEMO, name: DEMO }, by: { actor: DEMO } }
    const handedIn = await orders.handIn(await contentOf(file), asking)
    if (handedIn.kind === 'refused') throw new Error(`demo ${file}: ${handedIn.issues[0]?.message}`)
  }
}

const filesIn = async (kind: string) =>
  (await readdir(join(folder, kind)))
    .filter((name) => name.endsWith('.json'))
    .sort() // a replacement key comes after the order it is for
    .map((name) => join(kind, name))

async function demoFile<T>(schema: z.ZodType<T>, file: string): Promise<T> {
  const reading = read(schema, await contentOf(file))
  if (!reading.ok) throw new Error(`demo ${file}: ${reading.issues[0]?.path} ${reading.issues[0]?.message}`)
  return reading.value
}

async function contentOf(file: string): Promise<unknown> {
  const outcome = await readJsonFile(join(folder, file))
  if (outcome.kind !== 'json') throw new Error(`demo ${file} cannot be read: ${outcome.kind}`)
  return outcome.value
}
