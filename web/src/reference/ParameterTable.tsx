import type { ApiParameter } from '@haspwright/server/client'

const PLACES: Readonly<Record<ApiParameter['in'], string>> = {
  path: 'in the path',
  query: 'after the question mark',
  header: 'in the head of the request',
}

/** What stands in the address and the head of a request. */
export function ParameterTable({ parameters }: { parameters: readonly ApiParameter[] }) {
  return (
    <section aria-labelledby="parameters-title">
      <div className="section-head">
        <h2 id="parameters-title">In the address</h2>
      </div>
      <ul className="fields-of">
        {parameters.map(({ name, in: place, required, description, schema, example }) => (
          <li key={`${place} ${name}`}>
            <div className="field-line">
              <p className="field-name">
                <span className="figure">{name}</span>
                {required ? null : <span className="optional">may be left out</span>}
              </p>
              <div className="field-words">
                <p>{description}</p>
                <p className="small quiet">
                  {[
                    PLACES[place],
                    ...(schema.enum === undefined ? [] : [`one of ${schema.enum.join(', ')}`]),
                    ...(example === undefined ? [] : [`such as ${example}`]),
                  ].join(' · ')}
                </p>
              </div>
            </div>
          </li>
        ))}
      </ul>
    </section>
  )
}
