import { type AnyCalculation, calculationById } from '@haspwright/engine'
import { getRouteApi, Link } from '@tanstack/react-router'
import { NotFound } from '../frame/NotFound.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { CautionList } from '../sheet/CautionList.tsx'
import { Formula } from '../sheet/Formula.tsx'
import { SourceList } from '../sheet/SourceList.tsx'
import { CalculationForm } from './CalculationForm.tsx'
import { ResultSheet } from './ResultSheet.tsx'
import { useCalculationPage } from './use-calculation-page.ts'
import './evidence.css'

const route = getRouteApi('/evidence/calculations/$calculationId')

/** One calculation: its form, its result with the working, and what both rest on. */
export function CalculationPage() {
  const { calculationId } = route.useParams()
  const calculation = calculationById(calculationId)
  return calculation === undefined ? (
    <NotFound what="calculation" />
  ) : (
    <Sheet key={calculation.id} calculation={calculation} />
  )
}

function Sheet({ calculation }: { calculation: AnyCalculation }) {
  const page = useCalculationPage(calculation)
  usePageTitle(calculation.title)
  const { title, summary, equation, assumes = [], cautions = [], sources } = calculation
  return (
    <div className="page calculation">
      <p className="small quiet screen-only">
        <Link to="/evidence" className="tap">
          Evidence
        </Link>{' '}
        / {calculation.id}
      </p>
      <h1>{title}</h1>
      <p className="lead">{summary}</p>
      {calculation.secret ? (
        <p className="secret-warning">
          <strong>Codes are keys.</strong> What you put in and get out here opens locks. It stays on this page: it is
          not kept in the address, not sent and not stored. Do not leave it on the screen.
        </p>
      ) : null}
      <div className="calculation-columns">
        <section aria-labelledby="given">
          <div className="section-head">
            <h2 id="given">Given</h2>
          </div>
          <CalculationForm calculation={calculation} page={page} />
        </section>
        <div>
          <ResultSheet calculation={calculation} page={page} />
          <section className="rests-on" aria-labelledby="rests-on">
            <div className="section-head">
              <h2 id="rests-on">What it rests on</h2>
            </div>
            {equation === undefined ? null : <Formula tex={equation} />}
            {assumes.length === 0 ? null : (
              <ul className="assumes">
                {assumes.map((words) => (
                  <li key={words}>Assumes: {words}.</li>
                ))}
              </ul>
            )}
            <SourceList sources={sources} />
            <CautionList cautions={cautions} />
          </section>
        </div>
      </div>
    </div>
  )
}
