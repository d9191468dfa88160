import type { CodeSpaceSummary } from '@haspwright/server/client'
import { useId, useState } from 'react'
import { useMay } from '../api/people.ts'
import { codesWords } from '../mechanism/figure-words.ts'
import { WhyNot } from '../people/WhyNot.tsx'
import { ActForm, TextField } from './ActForm.tsx'
import { ImportForm } from './ImportForm.tsx'

/** What can be done to the codes of a design, and what was done: each with who, when and why. */
export function CodeActs({ space }: { space: CodeSpaceSummary }) {
  const acts = useMay('codes.act')
  if (!acts)
    return (
      <div className="code-acts">
        <ActTable space={space} />
        <WhyNot permission="codes.act" />
      </div>
    )
  return (
    <div className="code-acts">
      <ActTable space={space} />
      <details className="screen-only">
        <summary>Withdraw a code</summary>
        <p className="small quiet">
          A lost or copied key: the code is never given out again. This cannot be undone. Locks that it opens stay as
          they are.
        </p>
        <WithdrawForm design={space.design} />
      </details>
      <details className="screen-only">
        <summary>Reserve a range of numbers</summary>
        <p className="small quiet">No order is given a code of the range until it is released.</p>
        <ReserveForm design={space.design} />
      </details>
      <details className="screen-only">
        <summary>Take over codes from before the tool</summary>
        <ImportForm design={space.design} />
      </details>
    </div>
  )
}

function WithdrawForm({ design }: { design: string }) {
  const id = useId()
  const [named, setNamed] = useState<'blindCode' | 'number'>('blindCode')
  const [code, setCode] = useState('')
  const given = code.trim()
  const ready = named === 'number' ? /^\d+$/.test(given) : given !== ''
  const name = named === 'number' ? { number: given } : { blindCode: given }
  return (
    <ActForm
      design={design}
      label="Withdraw it"
      act={ready ? { kind: 'withdraw', code: name } : undefined}
      onDone={() => setCode('')}
    >
      <div className="field">
        <label htmlFor={`${id}-named`}>The code is known by</label>
        <span className="entry">
          <select
            id={`${id}-named`}
            value={named}
            onChange={(event) => setNamed(event.target.value === 'number' ? 'number' : 'blindCode')}
          >
            <option value="blindCode">what is stamped on lock or tag</option>
            <option value="number">its issue number</option>
          </select>
        </span>
      </div>
      <TextField
        id={`${id}-code`}
        label={named === 'number' ? 'Issue number' : 'Blind code'}
        value={code}
        onChange={setCode}
      />
    </ActForm>
  )
}

function ReserveForm({ design }: { design: string }) {
  const id = useId()
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const numbers = [from, to].map((text) => text.replace(/\s/g, ''))
  const [first = '', last = ''] = numbers
  const ready = numbers.every((text) => /^(0|[1-9]\d*)$/.test(text))
  return (
    <ActForm
      design={design}
      label="Reserve it"
      act={ready ? { kind: 'reserve', from: first, to: last } : undefined}
      onDone={() => {
        setFrom('')
        setTo('')
      }}
    >
      <TextField id={`${id}-from`} label="First number" value={from} onChange={setFrom} />
      <TextField id={`${id}-to`} label="Last number" value={to} onChange={setTo} />
    </ActForm>
  )
}

function ActTable({ space: { design, reservations, withdrawals, imports } }: { space: CodeSpaceSummary }) {
  const acts = useMay('codes.act')
  const [released, setReleased] = useState<string>()
  const rows = [
    ...reservations.map((act) => ({ ...act, what: 'reserved' })),
    ...withdrawals.map((act) => ({ ...act, id: undefined, what: 'withdrawn' })),
    ...imports.map((act) => ({ ...act, numbers: '', what: 'from before the tool' })),
  ].sort((a, b) => (a.at < b.at ? 1 : -1))
  if (rows.length === 0) return null
  return (
    <div className="table-scroll">
      <table className="orders-table act-table">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Numbers</th>
            <th scope="col" className="right">
              Codes
            </th>
            <th scope="col">Why</th>
            <th scope="col">Who, when</th>
            <th scope="col">
              <span className="visually-hidden">Release</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ id, what, numbers, count, reason, who, at }) => (
            <tr key={`${what} ${at} ${numbers} ${id ?? ''}`}>
              <td>{what}</td>
              <td className="figure act-numbers">{numbers}</td>
              <td className="figure right">{codesWords(count)}</td>
              <td>{reason}</td>
              <td className="small">
                {who}, <time dateTime={at}>{at.slice(0, 16).replace('T', ' ')}</time>
              </td>
              <td className="screen-only">
                {what !== 'reserved' || id === undefined || !acts ? null : (
                  <button type="button" className="text-button" onClick={() => setReleased(id)}>
                    Release {numbers}
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {released === undefined || !reservations.some(({ id }) => id === released) ? null : (
        <ActForm
          design={design}
          label="Release the range"
          act={{ kind: 'release', id: released }}
          onDone={() => setReleased(undefined)}
        />
      )}
    </div>
  )
}
