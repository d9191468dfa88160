import {
  answer,
  coatingDesignation,
  compareCoatings,
  type Design,
  formatNumber,
  serviceCondition,
} from '@haspwright/engine'
import { useMemo } from 'react'
import { CalculationLink } from '../evidence/CalculationLink.tsx'
import { Field } from '../fields/Field.tsx'
import { fieldModel } from '../fields/field-model.ts'
import { FormContext } from '../fields/form-context.ts'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { useAnswered } from './use-answered.ts'

const DEFAULT_HOURS = 96
const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const
const alternativesModel = fieldModel(compareCoatings.output.shape.alternatives)
const kindField =
  alternativesModel.kind === 'list' && alternativesModel.item.kind === 'group'
    ? alternativesModel.item.fields.find(({ name }) => name === 'kind')
    : undefined
const titleOf = (kind: string) =>
  (kindField?.kind === 'choice' ? kindField.options.find(({ value }) => value === kind)?.title : undefined) ?? kind

/** The coating as the standard writes it, and what else would do, side by side. */
export function CoatingPart({ design }: { design: Design }) {
  const { coating, requirements } = design
  const hours = requirements.saltSprayHours?.limit
  const first = useMemo(
    () => ({
      condition: coating.serviceCondition,
      chromium: coating.chromium,
      saltSprayHours: hours === undefined || hours === 0 ? DEFAULT_HOURS : hours,
    }),
    [coating, hours],
  )
  const asked = useAnswered(compareCoatings, first, 'coating')
  const { fields, draft, form, output, input, notices } = asked
  const { condition, chromium } = input as { condition?: unknown; chromium?: unknown } // a group of the fields shown
  const row = answer(serviceCondition, { condition, chromium })
  const read = row.ok ? answer(coatingDesignation, { designation: row.output.designation }) : undefined
  const plated = coating.layers.find(({ metal }) => metal.startsWith('chromium'))?.metal
  return (
    <FormContext value={form}>
      <section className="finish-part" aria-labelledby="coating">
        <div className="section-head">
          <h2 id="coating">Which coating</h2>
          <small>by service condition; first what is kindest to who plates it</small>
        </div>
        <p className="thickness-sentence">
          {row.ok ? (
            <>
              <strong className="designation">{row.output.designation}</strong>: at least{' '}
              {formatNumber(row.output.nickelUm, 3)} µm of {row.output.nickel === 'bright' ? 'bright' : 'double-layer'}{' '}
              nickel
              {row.output.semiBrightPercent > 0
                ? `, ${formatNumber(row.output.semiBrightPercent, 3)} % of it semi-bright,`
                : ''}{' '}
              and {formatNumber(row.output.leastChromiumUm, 3)} µm of chromium at the thinnest significant spot.{' '}
              {read?.ok && read.output.designation === row.output.designation
                ? 'Read back, the designation says the same. '
                : ''}
              {row.output.rowRead ? '' : 'The row is from memory: confirm it before it is promised. '}
            </>
          ) : (
            `Not known yet: ${row.issues[0]?.message ?? ''} `
          )}
          {plated === 'chromium(III)'
            ? 'This design is chromed from a trivalent bath, the first choice.'
            : plated === 'chromium(VI)'
              ? 'This design is chromed from a hexavalent bath: toxic and carcinogenic, in many places restricted. Try the trivalent bath first.'
              : ''}
        </p>
        <div className="rack-fields coating-fields screen-only">
          {fields.map((field) => (
            <Field key={field.name} model={field} draft={draft[field.name]} path={[field.name]} />
          ))}
        </div>
        {hours === undefined || hours === 0 ? (
          <p className="small quiet not-stated">
            The design asks for no hours of salt spray; the {DEFAULT_HOURS} h here are only to compare by.
          </p>
        ) : null}
        {output === undefined ? (
          <p role="status">Not compared yet: {asked.issues[0]?.message}</p>
        ) : (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
          <section className="table-scroll" tabIndex={0} aria-label="Coatings side by side">
            <table className="sheet-table">
              <thead>
                <tr>
                  <th scope="col">Coating</th>
                  <th scope="col">Written</th>
                  <th scope="col" className="right">
                    At least <small>µm</small>
                  </th>
                  <th scope="col" className="right">
                    No red rust before <small>h salt spray</small>
                  </th>
                  <th scope="col">Against the hours asked</th>
                  <th scope="col">Because</th>
                </tr>
              </thead>
              <tbody>
                {output.alternatives.map(
                  ({ kind, coating: written, thicknessUm, saltSprayHours, verdict, because }) => (
                    <tr key={kind}>
                      <th scope="row">{titleOf(kind)}</th>
                      <td className="figure">{written}</td>
                      <td className="figure right">{thicknessUm === null ? '—' : formatNumber(thicknessUm, 3)}</td>
                      <td className="figure right">
                        {saltSprayHours === null ? '—' : formatNumber(saltSprayHours, 4)}
                      </td>
                      <td className={`verdict-cell ${verdict}`}>
                        <i aria-hidden="true" /> {VERDICTS[verdict]}
                      </td>
                      <td className="small">{because}</td>
                    </tr>
                  ),
                )}
              </tbody>
            </table>
          </section>
        )}
        <NoticeList notices={notices} />
        {output === undefined ? null : <CalculationLink id="finish.compare-coatings" input={input} />}
      </section>
    </FormContext>
  )
}
