import type { NamedOrder } from './chart-order-text.ts'
import type { KeyNode, KeyTree } from './chart-tree.ts'

/** Rows of one level that are written out; the rest is told by its number. */
const SHOWN = 12

/** The levels of keys: who stands over whom, and how many locks each opens. */
export function ChartTree({ tree, order }: { tree: KeyTree; order: NamedOrder }) {
  return (
    <section aria-labelledby="levels" className="chart-levels">
      <div className="section-head">
        <h2 id="levels">Levels</h2>
        <small>
          {order.keys.length} keys, {order.locks.length} locks, {tree.levels} {tree.levels === 1 ? 'level' : 'levels'}
        </small>
      </div>
      {order.locks.length === 0 ? <p className="quiet">No lock is named yet.</p> : <Level nodes={tree.roots} />}
      {tree.crossing.length === 0 ? null : (
        <>
          <h3>Keys that cross</h3>
          <p className="small quiet">They open a part of the locks of several groups, and belong under no one key.</p>
          <ul className="key-level">
            {tree.crossing.slice(0, SHOWN).map(({ key, locks }) => (
              <li key={key}>
                <span className="key-name">{key}</span> <span className="small quiet">{lockCount(locks)}</span>
              </li>
            ))}
            {tree.crossing.length > SHOWN ? (
              <li className="small quiet">and {tree.crossing.length - SHOWN} more keys</li>
            ) : null}
          </ul>
        </>
      )}
    </section>
  )
}

function Level({ nodes }: { nodes: readonly KeyNode[] }) {
  const branches = nodes.filter(({ children }) => children.length > 0)
  const leaves = nodes.filter(({ children }) => children.length === 0)
  const shown = leaves.length <= SHOWN ? leaves : []
  return (
    <ul className="key-level">
      {branches.map((node) => (
        <li key={node.keys[0]}>
          <details open={branches.length <= SHOWN}>
            <summary className="tap">
              <span className="key-name">{node.keys.join(', ')}</span>{' '}
              <span className="small quiet">{lockCount(node.locks)}</span>
            </summary>
            <Level nodes={node.children} />
          </details>
        </li>
      ))}
      {shown.map((node) => (
        <li key={node.keys[0]}>
          <span className="key-name">{node.keys.slice(0, 4).join(', ')}</span>
          {node.keys.length > 4 ? ` and ${node.keys.length - 4} more` : ''}{' '}
          <span className="small quiet">
            {node.locks === 1 && node.ownLocks[0] !== undefined ? `opens ${node.ownLocks[0]}` : lockCount(node.locks)}
          </span>
        </li>
      ))}
      {leaves.length > shown.length ? (
        <li>
          {leaves.length} keys of their own{' '}
          <span className="small quiet">
            {leaves[0]?.keys[0]} to {leaves.at(-1)?.keys[0]}
            {leaves.every(({ locks }) => locks === 1) ? ', one lock each' : ''}
          </span>
        </li>
      ) : null}
    </ul>
  )
}

const lockCount = (locks: number) => `${locks} ${locks === 1 ? 'lock' : 'locks'}`
