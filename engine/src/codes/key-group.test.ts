import { describe, expect, it } from 'vitest'
import { Refusal } from '../issue.ts'
import type { CodeShape } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { issueOrder } from './issue-order.ts'
import { type KeyGroup, type KeyGroupOrder, type LockOrder, placeKeyGroup } from './key-group.ts'

/** The stream of codes of a space under a fixed key. */
function stream(shape: CodeShape): KeyGroupOrder['codeAt'] {
  const space = openCodeSpace(shape)
  if (space instanceof Refusal) throw new Error('refused')
  const order = issueOrder(space, new Uint8Array(16).fill(3))
  return (number) => (number < space.usable ? space.unrank(order.indexOf(number)) : undefined)
}
const harbour = stream({ discs: 7, values: 10, rules: { maxSameInRow: 2, minDistinct: 3 } })

const different = (count: number): LockOrder[] =>
  Array.from({ length: count }, (_, i) => ({ name: `lock ${i}`, openedBy: [`key ${i}`] }))
const mastered = (count: number): LockOrder[] =>
  different(count).map((lock) => ({ ...lock, openedBy: [...lock.openedBy, 'master'] }))

function placed(order: Omit<KeyGroupOrder, 'codeAt' | 'start' | 'maxGatesPerDisc'> & Partial<KeyGroupOrder>): KeyGroup {
  const group = placeKeyGroup({ codeAt: harbour, start: 0n, maxGatesPerDisc: 3, ...order })
  if (group instanceof Refusal) throw new Error(JSON.stringify(group.issues))
  return group
}

/** Tried apart from the program: which keys open which lock. */
function opening({ keys, locks }: KeyGroup): Map<string, string[]> {
  return new Map(
    locks.map(({ name, gates }) => [
      name,
      keys.filter(({ code }) => code.every((value, disc) => gates[disc]?.includes(value))).map((key) => key.name),
    ]),
  )
}

describe('key groups', () => {
  it('keyed different takes the next codes of the stream, and nothing is passed over', () => {
    const group = placed({ locks: different(300), minDifferingDiscs: 1, start: 40n })
    expect(group.keys.map(({ issueNumber }) => issueNumber)).toEqual(
      Array.from({ length: 300 }, (_, i) => 40n + BigInt(i)),
    )
    expect(group).toMatchObject({ next: 340n, passedOver: [], trial: { pairs: 90_000, mostGatesOnADisc: 1 } })
  })

  it('keyed alike gives one key to a group, and gates of one value', () => {
    const locks = Array.from({ length: 120 }, (_, i) => ({ name: `lock ${i}`, openedBy: [`group ${i % 3}`] }))
    const group = placed({ locks, minDifferingDiscs: 1 })
    expect(group.keys).toHaveLength(3)
    expect([...opening(group).values()].every((names) => names.length === 1)).toBe(true)
    expect(group.trial.mostGatesOnADisc).toBe(1)
  })

  it('a master opens all, every key its own lock and no other, missing at least two discs elsewhere', () => {
    const locks = mastered(60)
    const group = placed({ locks, minDifferingDiscs: 2 })
    const opened = opening(group)
    for (const { name, openedBy } of locks) expect(opened.get(name)?.toSorted()).toEqual([...openedBy].toSorted())
    expect(group.trial.worstDifferingDiscs).toBeGreaterThanOrEqual(2)
    expect(group.trial.mostGatesOnADisc).toBe(2)
    expect(Number(group.next)).toBe(group.keys.length + group.passedOver.length)
  })

  it('three levels: each master opens its own part and no other', () => {
    const locks = Array.from({ length: 80 }, (_, i) => ({
      name: `lock ${i}`,
      openedBy: [`key ${i}`, `floor ${i % 4}`, 'house'],
    }))
    const group = placed({ locks, minDifferingDiscs: 1 })
    const opened = opening(group)
    for (const { name, openedBy } of locks) expect(opened.get(name)?.toSorted()).toEqual([...openedBy].toSorted())
    expect(group.keys[0]?.name).toBe('house')
  })

  it('gives the same keys each time, and goes on where it stopped without giving a code twice', () => {
    const first = placed({ locks: mastered(20), minDifferingDiscs: 2 })
    expect(placed({ locks: mastered(20), minDifferingDiscs: 2 })).toEqual(first)
    const second = placed({
      locks: different(20),
      minDifferingDiscs: 2,
      start: first.next,
      existing: { keys: first.keys.map(({ code }) => code), locks: first.locks.map(({ gates }) => gates) },
    })
    const texts = [...first.keys, ...second.keys].map(({ code }) => code.join())
    expect(new Set(texts).size).toBe(texts.length)
    for (const { code } of second.keys)
      for (const { gates } of first.locks)
        expect(code.filter((value, disc) => !gates[disc]?.includes(value)).length).toBeGreaterThanOrEqual(2)
  })

  it('keeps a further test that is passed in', () => {
    const far = (a: readonly number[], gates: readonly (readonly number[])[]) =>
      a.some((value, disc) => gates[disc]?.every((gate) => Math.abs(gate - value) > 3) ?? false)
    const group = placed({ locks: different(50), minDifferingDiscs: 1, staysOut: far })
    for (const { code } of group.keys)
      for (const { gates } of group.locks)
        if (code.some((value, disc) => gates[disc]?.[0] !== value)) expect(far(code, gates)).toBe(true)
  })

  it('places 2 000 locks under one master', () => {
    const group = placed({ locks: mastered(2000), minDifferingDiscs: 1 })
    expect(group.keys).toHaveLength(2001)
    expect(group.trial.pairs).toBe(2001 * 2000)
  }, 60_000)

  it('says which lock is the tightest, and what would loosen it, when no keys are found', () => {
    const small = stream({ discs: 3, values: 4, rules: {} })
    const crowded = placeKeyGroup({
      locks: mastered(60),
      minDifferingDiscs: 2,
      maxGatesPerDisc: 2,
      codeAt: small,
      start: 0n,
    })
    if (!(crowded instanceof Refusal)) throw new Error('placed')
    expect(crowded.issues[0]).toMatchObject({ path: 'locks', code: 'out-of-reach' })
    expect(crowded.issues[0]?.message).toMatch(/of 61 keys; then the codes of the space ran out\. The tightest is lock/)
    expect(crowded.issues[0]?.message).toContain('fewer discs that a foreign key must miss')
  })

  it('refuses a lock that no key opens, and two locks of one name', () => {
    const refused = placeKeyGroup({
      locks: [
        { name: 'a', openedBy: [] },
        { name: 'b', openedBy: ['x'] },
        { name: 'b', openedBy: ['y'] },
      ],
      minDifferingDiscs: 1,
      maxGatesPerDisc: 1,
      codeAt: harbour,
      start: 0n,
    })
    if (!(refused instanceof Refusal)) throw new Error('placed')
    expect(refused.issues.map(({ path }) => path)).toEqual(['locks[0]', 'locks[2]'])
  })
})
