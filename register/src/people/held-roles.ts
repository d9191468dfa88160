import { sql } from 'kysely'
import type { Change } from '../postgres/works-store.ts'

/** Lets nobody else change people or roles until the change is over. */
export async function holdPeople(change: Change, worksId: string): Promise<void> {
  await sql`SELECT pg_advisory_xact_lock(hashtextextended(${JSON.stringify(['people', worksId])}, 0))`.execute(change)
}

/** Every role that each person has or ever had, by the number of the person: read from the chain, where nobody can take one out. */
export async function rolesEverHeld(
  tables: Pick<Change, 'selectFrom'>,
  worksId: string,
): Promise<ReadonlyMap<string, readonly string[]>> {
  const now = await tables
    .selectFrom('person_roles')
    .select(['person_id as person', 'role'])
    .where('works_id', '=', worksId)
    .execute()
  const given = await tables
    .selectFrom('events')
    .select(['subject as person', 'body'])
    .where('works_id', '=', worksId)
    .where('kind', 'in', ['person.let-in', 'person.roles-changed'])
    .execute()
  const held = new Map<string, Set<string>>()
  const note = (person: string, roles: readonly string[]) =>
    held.set(person, new Set([...(held.get(person) ?? []), ...roles]))
  for (const { person, role } of now) note(person, [role])
  for (const { person, body } of given) {
    // As people.ts and invitations.ts write them.
    const { roles = [], before = [], after = [] } = JSON.parse(body) as Record<string, string[] | undefined>
    note(person, [...roles, ...before, ...after])
  }
  return new Map([...held].map(([person, roles]) => [person, [...roles]]))
}
