import { formatNumber, formatQuantity } from '@haspwright/engine'
import type { FieldModel } from '../fields/field-model.ts'

/** An output as its schema describes it: figures in a table, lists as tables, the rest in words. */
export function ResultValue({ model, value }: { model: FieldModel; value: unknown }) {
  if (model.kind === 'group') return <ResultGroup fields={model.fields} value={value} />
  if (model.kind === 'list') return <ResultList model={model} value={Array.isArray(value) ? value : []} />
  return <span className="figure">{plainValue(model, value)}</span>
}

function ResultGroup({ fields, value }: { fields: readonly FieldModel[]; value: unknown }) {
  const given = asObject(value)
  return (
    <table className="result-table">
      <tbody>
        {fields
          .filter(({ name }) => given[name] !== undefined)
          .map((field) => (
            <ResultRow key={field.name} field={field} value={given[field.name]} />
          ))}
      </tbody>
    </table>
  )
}

/** A figure stands beside its name; what needs room stands under it. */
function ResultRow({ field, value }: { field: FieldModel; value: unknown }) {
  const wide = Array.isArray(value) && value.length > 0 && typeof value[0] === 'object'
  if (!wide)
    return (
      <tr>
        <th scope="row">{field.title}</th>
        <td>
          <ResultValue model={field} value={value} />
        </td>
      </tr>
    )
  return (
    <tr className="result-wide">
      <td colSpan={2}>
        <p>{field.title}</p>
        <ResultValue model={field} value={value} />
      </td>
    </tr>
  )
}

/** Rows shown of a long list; a page of ten thousand helps nobody. */
const FIRST = 200

function ResultList({ model, value }: { model: Extract<FieldModel, { kind: 'list' }>; value: readonly unknown[] }) {
  const { item } = model
  if (value.length === 0) return <span className="quiet">none</span>
  const more = value.length > FIRST ? <p className="small quiet">{value.length - FIRST} more are not shown.</p> : null
  const rows = value.slice(0, FIRST)
  if (item.kind !== 'group' && item.kind !== 'list')
    return (
      <>
        <span className="figure result-run">{rows.map((entry) => plainValue(item, entry)).join(' · ')}</span>
        {more}
      </>
    )
  if (item.kind === 'list')
    return (
      <>
        <ol className="result-rows">
          {rows.map((row, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the list
            <li key={i} className="figure">
              {Array.isArray(row) ? row.map((entry) => plainValue(item.item, entry)).join(' ') : ''}
            </li>
          ))}
        </ol>
        {more}
      </>
    )
  return (
    <div className="table-scroll">
      <table className="result-list">
        <thead>
          <tr>
            {item.fields.map((field) => (
              <th scope="col" key={field.name}>
                {field.title}
                {field.kind === 'number' && field.unit !== '' ? <span className="quiet">, {field.unit}</span> : null}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the list
            <tr key={i}>
              {item.fields.map((field) => (
                <td key={field.name}>
                  {field.kind === 'number' ? (
                    <span className="figure">{bareValue(asObject(row)[field.name])}</span>
                  ) : (
                    <ResultValue model={field} value={asObject(row)[field.name]} />
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {more}
    </div>
  )
}

const bareValue = (value: unknown) =>
  typeof value === 'number' ? formatNumber(value) : value === null || value === undefined ? '–' : String(value)

function plainValue(model: FieldModel, value: unknown): string {
  if (value === null || value === undefined) return '–'
  if (typeof value === 'number') return formatQuantity(value, model.kind === 'number' ? model.unit : '', 5)
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'string')
    return model.kind === 'choice' ? (model.options.find((o) => o.value === value)?.title ?? value) : grouped(value)
  if (Array.isArray(value)) return value.map((entry) => plainValue(model, entry)).join(' · ')
  return Object.entries(asObject(value))
    .map(([key, entry]) => `${key}: ${plainValue(model, entry)}`)
    .join(' · ')
}

/** Whole numbers kept as text, past 2^53, are grouped like any other. */
const grouped = (text: string) => (/^\d{5,}$/.test(text) ? text.replace(/\B(?=(\d{3})+$)/g, '\u202f') : text)
const asObject = (value: unknown): Record<string, unknown> =>
  value !== null && typeof value === 'object' ? (value as Record<string, unknown>) : {}
