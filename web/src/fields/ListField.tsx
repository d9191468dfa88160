import type { ReactNode } from 'react'
import { ChildField } from './ChildField.tsx'
import { type Draft, draftAt, emptyDraft } from './draft.ts'
import type { FieldModel, ListModel } from './field-model.ts'
import { type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'
import { Entry, type LeafModel } from './LeafField.tsx'
import { NumberCells } from './NumberCells.tsx'

interface Props {
  model: ListModel
  draft: readonly Draft[]
  path: FieldPath
  leaveOut?: ReactNode
}

/** Several of a kind: a growing table where the kind is a row of simple fields, cells where it is a figure, else one block each. */
export function ListField(props: Props) {
  const { model, draft, path, leaveOut } = props
  const form = useForm()
  const columns = columnsOf(model.item)
  const grow = (
    <button
      type="button"
      className="text-button small"
      disabled={draft.length >= model.max}
      onClick={() => form.change(path, [...draft, emptyDraft(model.item)])}
    >
      Add a row<span className="visually-hidden"> to {model.title}</span>
    </button>
  )
  return (
    <fieldset className="branch list">
      <legend>
        {model.title} {model.optional ? <span className="optional">optional</span> : null} {leaveOut}
      </legend>
      {model.item.kind === 'number' ? (
        <NumberCells model={model} item={model.item} draft={draft} path={path} />
      ) : columns === undefined ? (
        <Blocks {...props} />
      ) : (
        <Table {...props} columns={columns} />
      )}
      {model.item.kind === 'number' ? null : grow}
      <IssueLines issues={form.issuesAt(path)} />
    </fieldset>
  )
}

function Table({ model, draft, path, columns }: Props & { columns: readonly LeafModel[] }) {
  const form = useForm()
  return (
    <div className="table-scroll">
      <table className="rows">
        <thead>
          <tr>
            <th scope="col" className="visually-hidden">
              Row
            </th>
            {columns.map((column) => (
              <th scope="col" key={column.name}>
                {column.title}
              </th>
            ))}
            <th scope="col">
              <span className="visually-hidden">Remove</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {draft.map((row, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the list
            <tr key={i}>
              <th scope="row" className="figure quiet">
                {i + 1}
              </th>
              {columns.map((column) => {
                const at = [...path, i, ...(column.name === '' ? [] : [column.name])]
                const typed = column.name === '' ? row : draftAt(row, [column.name])
                return (
                  <td key={column.name}>
                    <Entry
                      model={column}
                      draft={typeof typed === 'string' ? typed : ''}
                      path={at}
                      label={`${column.title}, row ${i + 1}`}
                    />
                    <IssueLines issues={form.issuesAt(at)} />
                  </td>
                )
              })}
              <td>
                <RemoveButton model={model} draft={draft} path={path} at={i} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function Blocks({ model, draft, path }: Props) {
  return (
    <ol className="blocks">
      {draft.map((item, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a block is its place in the list
        <li key={i}>
          <p className="block-head">
            <span className="figure quiet">{i + 1}</span>{' '}
            <RemoveButton model={model} draft={draft} path={path} at={i} />
          </p>
          <ChildField model={model.item} draft={item ?? ''} path={[...path, i]} />
        </li>
      ))}
    </ol>
  )
}

function RemoveButton({ model, draft, path, at }: Omit<Props, 'leaveOut'> & { at: number }) {
  const form = useForm()
  return (
    <button
      type="button"
      className="text-button small"
      disabled={draft.length <= model.min}
      onClick={() =>
        form.change(
          path,
          draft.filter((_, i) => i !== at),
        )
      }
    >
      Remove
      <span className="visually-hidden">
        {' '}
        row {at + 1} of {model.title}
      </span>
    </button>
  )
}

/** The columns of a table, or `undefined` where an item holds more than simple fields. */
function columnsOf(item: FieldModel): readonly LeafModel[] | undefined {
  if (isLeaf(item)) return [item]
  if (item.kind !== 'group' || !item.fields.every(isLeaf) || item.fields.length > 8) return undefined
  return item.fields.filter(isLeaf)
}
const isLeaf = (field: FieldModel): field is LeafModel =>
  field.kind === 'number' || field.kind === 'text' || field.kind === 'choice' || field.kind === 'switch'
