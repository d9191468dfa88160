import { useId, useState } from 'react'
import { Button, FileTrigger } from 'react-aria-components'
import { ActForm } from './ActForm.tsx'

/** Largest list that the server reads. */
const MOST_BYTES = 16 * 1024 * 1024

/** A list of codes from before the tool: every bad line is shown, and is put right in the list or set aside by hand. */
export function ImportForm({ design }: { design: string }) {
  const id = useId()
  const [file, setFile] = useState<{ name: string; text: string }>()
  const [tooLarge, setTooLarge] = useState(false)
  const [lowestCut, setLowestCut] = useState<0 | 1>(0)
  const [bad, setBad] = useState<readonly number[]>([])
  const [setAside, setSetAside] = useState<ReadonlySet<number>>(new Set())
  const take = async (chosen: File) => {
    setBad([])
    setSetAside(new Set())
    setTooLarge(chosen.size > MOST_BYTES)
    setFile(chosen.size > MOST_BYTES ? undefined : { name: chosen.name, text: await chosen.text() })
  }
  const toggle = (line: number) => {
    const next = new Set(setAside)
    if (!next.delete(line)) next.add(line)
    setSetAside(next)
  }
  return (
    <>
      <p className="small quiet">
        A CSV list whose first line names the columns: <span className="figure">code</span>, or{' '}
        <span className="figure">cut 1</span>, <span className="figure">cut 2</span>, … and{' '}
        <span className="figure">lock</span> and <span className="figure">blind code</span> if wanted.{' '}
        <strong>The list holds cuts: whoever has it can cut the keys.</strong> It is kept sealed; destroy the file
        afterwards.
      </p>
      <ActForm
        design={design}
        label="Take them over"
        act={
          file === undefined
            ? undefined
            : { kind: 'import', text: file.text, lowestCut, setAside: [...setAside].sort((a, b) => a - b) }
        }
        onDone={() => {
          setFile(undefined)
          setBad([])
          setSetAside(new Set())
        }}
        onRefused={(lines) => setBad([...new Set([...setAside, ...lines])].sort((a, b) => a - b))}
      >
        <div className="field">
          <span className="label">The list</span>
          <FileTrigger
            acceptedFileTypes={['text/csv', '.csv', 'text/plain']}
            onSelect={(files) => {
              const chosen = files?.[0]
              if (chosen !== undefined) void take(chosen)
            }}
          >
            <Button className="button">{file === undefined ? 'Choose a CSV file' : file.name}</Button>
          </FileTrigger>
          {tooLarge ? <p className="short">The file is too large: at most 16 MB are read at once.</p> : null}
        </div>
        <div className="field">
          <label htmlFor={`${id}-lowest`}>The lowest cut is written as</label>
          <span className="entry">
            <select
              id={`${id}-lowest`}
              value={lowestCut}
              onChange={(event) => setLowestCut(event.target.value === '1' ? 1 : 0)}
            >
              <option value={0}>0</option>
              <option value={1}>1</option>
            </select>
          </span>
        </div>
        {bad.length === 0 ? null : (
          <fieldset className="branch set-aside">
            <legend>Bad lines: put them right in the list and choose it again, or set them aside for good</legend>
            {bad.map((line) => (
              <label key={line} className="tap">
                <input type="checkbox" checked={setAside.has(line)} onChange={() => toggle(line)} /> line {line}
              </label>
            ))}
          </fieldset>
        )}
      </ActForm>
    </>
  )
}
