import type { SchemaField } from './schema-fields.ts'

/** The fields of a body or an answer, those of a group under it. */
export function FieldList({ field, label }: { field: SchemaField; label: string }) {
  const { fields, forms, kind } = field
  if (fields.length === 0 && forms.length === 0)
    return (
      <p className="quiet">
        {kind}
        {field.help === undefined ? '' : `. ${field.help}`}
      </p>
    )
  return (
    <div className="fields-of">
      {kind.startsWith('group') ? null : <p className="fields-kind quiet">{kind}</p>}
      <Inside field={field} label={label} />
    </div>
  )
}

function Inside({ field: { fields, forms }, label }: { field: SchemaField; label: string }) {
  return (
    <ul aria-label={label}>
      {fields.map((each, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the fields of a schema keep their places
        <FieldLine key={`${each.name} ${i}`} field={each} />
      ))}
      {forms.map((form, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: as above
        <FieldLine key={`${form.title} ${i}`} field={form} />
      ))}
    </ul>
  )
}

function FieldLine({ field }: { field: SchemaField }) {
  const inside = field.fields.length + field.forms.length > 0
  return (
    <li>
      <div className="field-line">
        <p className="field-name">
          {field.name === '' ? <span>{field.title ?? 'each'}</span> : <span className="figure">{field.name}</span>}
          {field.needed ? null : <span className="optional">may be left out</span>}
        </p>
        <div className="field-words">
          {field.name === '' ? null : <p>{field.title}</p>}
          <p className="small quiet">
            {[unitWords(field), ...field.limits].filter(Boolean).join(' · ')}
            {field.secret ? ' · secret' : ''}
          </p>
          {field.choices.length === 0 ? null : <Choices choices={field.choices} />}
          {field.help === undefined ? null : <p className="small">{field.help}</p>}
        </div>
      </div>
      {inside ? <Within field={field} /> : null}
    </li>
  )
}

/** A shape that has a name is a page of fields by itself: opened by whoever wants it. */
function Within({ field }: { field: SchemaField }) {
  const inside = <Inside field={field} label={`Within ${field.name || field.title || 'each'}`} />
  return field.shape === undefined ? (
    inside
  ) : (
    <details>
      <summary>Fields of {field.title ?? field.shape}</summary>
      {inside}
    </details>
  )
}

const unitWords = ({ kind, unit }: SchemaField) => (unit === undefined ? kind : `${kind}, in ${unit}`)

function Choices({ choices }: Pick<SchemaField, 'choices'>) {
  return (
    <ul className="choices" aria-label="Choices">
      {choices.map(({ value, title }) => (
        <li key={value}>
          <span className="figure">{value}</span>
          {title === undefined ? null : <span className="small quiet"> {title}</span>}
        </li>
      ))}
    </ul>
  )
}
