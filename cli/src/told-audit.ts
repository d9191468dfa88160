import type { Issue } from '@haspwright/engine'
import type { AuditOfAll, BackupReport } from '@haspwright/register'

/** What is wrong with the chains of a backup or a register, as issues. */
export function brokenChains(works: BackupReport['works']): Issue[] {
  return Object.entries(works).flatMap(([id, audit]) =>
    audit.whole
      ? []
      : [{ path: `works ${id}, event ${audit.broken.number}`, code: 'contradiction', message: audit.broken.message }],
  )
}

export function auditIssues({ events, gaps }: AuditOfAll): Issue[] {
  return [...brokenChains(events), ...gaps.map((message): Issue => ({ path: 'codes', code: 'contradiction', message }))]
}

/** Events and head of each works. */
export function toldChains(works: BackupReport['works']) {
  return Object.entries(works).map(([id, audit]) => ({
    works: id,
    whole: audit.whole,
    events: `${audit.events}`,
    head: audit.whole && audit.head !== undefined ? { number: `${audit.head.number}`, hash: audit.head.hash } : null,
  }))
}
