import type { WorkingStep } from '@haspwright/engine'
import { Formula } from './Formula.tsx'
import './working.css'

/** How a figure came about: each formula, and the same with the numbers put in; or one sentence on the method. */
export function Working({ working }: { working: readonly WorkingStep[] | string }) {
  if (typeof working === 'string') return <p className="working-words">{working}</p>
  return (
    <ol className="working">
      {working.map(({ finds, formula, filled }) => (
        <li key={`${finds}${formula}`}>
          <p className="label quiet">{finds}</p>
          <Formula tex={formula} />
          <Formula tex={filled} />
        </li>
      ))}
    </ol>
  )
}
