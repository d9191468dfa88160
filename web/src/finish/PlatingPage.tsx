import type { DesignPlan, OperationKind, WorksPlan } from '@haspwright/engine'
import { getRouteApi, Link } from '@tanstack/react-router'
import { type ReactNode, useMemo } from 'react'
import { useOrder } from '../api/orders.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { CautionList } from '../sheet/CautionList.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { CoatingPart } from './CoatingPart.tsx'
import { LinePart } from './LinePart.tsx'
import { lineSentence } from './line-words.ts'
import { RinsePart } from './RinsePart.tsx'
import { StepsPart } from './StepsPart.tsx'
import { ThicknessPart } from './ThicknessPart.tsx'
import { lineOfPlan, useLine } from './use-line.ts'
import '../orders/order-page.css'
import '../orders/operation-sheet.css'
import './finish.css'
import './parts.css'

const route = getRouteApi('/orders/$orderId/plating')

/** Clean and plate: the line of an order's design with its timetable, thickness, rectifiers, rinses, coating and bake. */
export function PlatingPage() {
  const { orderId } = route.useParams()
  const { design } = route.useSearch()
  const order = useOrder(orderId)
  usePageTitle(`Clean and plate, order ${orderId}`)
  if (order.isPending) return <Waiting what="the line" />
  if (order.isError) return <FaultPage error={order.error} what="order" retry={() => void order.refetch()} />
  const { plan } = order.data
  const planned = plan?.designs.find((each) => each.design.id === design) ?? plan?.designs[0]
  if (plan === null || planned === undefined)
    return (
      <div className="page">
        <h1>Clean and plate</h1>
        <p>
          The order is not planned yet.{' '}
          <Link to="/orders/$orderId" params={{ orderId }}>
            Open the order
          </Link>
        </p>
      </div>
    )
  return <PlatingSheet key={`${planned.design.id} ${planned.design.revision}`} plan={plan} planned={planned} />
}

function PlatingSheet({ plan, planned }: { plan: WorksPlan; planned: DesignPlan }) {
  const { design } = planned
  const { question, isAssumed } = useMemo(() => lineOfPlan(design, plan.works), [design, plan.works])
  return (
    <div className="page plating-page">
      <p className="small quiet screen-only">
        <Link to="/orders" className="tap">
          Orders
        </Link>{' '}
        /{' '}
        <Link
          to="/orders/$orderId"
          params={{ orderId: plan.order.id }}
          search={{ design: design.id, station: 'nickel' }}
          className="tap"
        >
          {plan.order.id}
        </Link>{' '}
        / clean and plate
      </p>
      <h1 className="title-line">
        Clean and plate {design.title}
        <small>
          order {plan.order.id} · design {design.id} rev {design.revision} · {plan.works.name}
        </small>
      </h1>
      {question.ok ? (
        <Timed plan={plan} planned={planned} question={question} isAssumed={isAssumed} />
      ) : (
        <>
          <p className="sentence" data-verdict="not-known">
            <strong>The line cannot be timed:</strong> {question.because}
          </p>
          <Rest plan={plan} planned={planned} />
        </>
      )}
      <TitleBlock
        cells={[
          ['sheet', 'line, thickness, baths'],
          ['design', `${design.id} rev ${design.revision}`],
          ['order', plan.order.id],
          ['at', 'plating line'],
        ]}
      />
    </div>
  )
}

const ON_THE_LINE: readonly OperationKind[] = ['clean', 'nickel', 'chromium', 'relief-bake']
const stepsOf = ({ operations }: DesignPlan, kinds: readonly OperationKind[]) =>
  operations.filter(({ operation }) => kinds.includes(operation))

interface OfPlan {
  readonly plan: WorksPlan
  readonly planned: DesignPlan
}

/** The line with its timetable, then everything that does not wait for it. */
function Timed({
  plan,
  planned,
  question,
  isAssumed,
}: OfPlan & { question: Parameters<typeof useLine>[1]; isAssumed: boolean }) {
  const tried = useLine(planned.design, question)
  const { line, solved, remedies, issues } = tried
  const sentence =
    issues.length > 0
      ? { verdict: 'falls-short', headline: 'The line cannot be timed as it stands', detail: issues[0]?.message ?? '' }
      : line === undefined || solved.output === undefined
        ? undefined
        : lineSentence({
            line,
            report: solved.output,
            remedies: remedies.output,
            transferLimitS: tried.transferAsked?.limit,
          })
  return (
    <>
      <p className="sentence" data-verdict={sentence?.verdict ?? 'not-known'} aria-live="polite">
        {sentence === undefined ? (
          'Working out the timetable …'
        ) : (
          <>
            <strong>{sentence.headline}:</strong> {sentence.detail}
          </>
        )}
      </p>
      <Rest plan={plan} planned={planned}>
        <LinePart
          tried={tried}
          isAssumed={isAssumed}
          locksOnRack={stepsOf(planned, ['nickel'])[0]?.time?.piecesPerLoad}
        />
      </Rest>
    </>
  )
}

/** Cautions, the line where there is one, thickness, rectifiers, rinses, coating, bake. */
function Rest({ plan, planned, children }: OfPlan & { children?: ReactNode }) {
  const onLine = stepsOf(planned, ON_THE_LINE)
  const own = plan.findings.filter(({ operation }) => onLine.some(({ id }) => id === operation))
  const cautions = [
    ...new Map(onLine.flatMap((step) => step.cautions).map((caution) => [caution.id, caution])).values(),
  ]
  return (
    <>
      <CautionList cautions={cautions} />
      {children}
      <ThicknessPart
        design={planned.design}
        works={plan.works}
        finding={own.find(({ id }) => id === `${planned.design.id}/nickel/thinnest`)}
      />
      <StepsPart
        id="rectifiers"
        title="Rectifiers and times"
        note="the plan’s settings; each opens its working"
        operations={stepsOf(planned, ['nickel', 'chromium'])}
        findings={own}
      />
      <RinsePart plan={plan} design={planned.design} />
      <CoatingPart design={planned.design} />
      <StepsPart
        id="bake"
        title="Before and after: acid and relief bake"
        note="hard steel takes up hydrogen in acid and bath; the bake drives it out, in time and below the tempering"
        operations={stepsOf(planned, ['clean', 'relief-bake'])}
        findings={own}
      />
      <p className="to-bath-log">
        <Link to="/bath-log" className="button screen-only">
          Bath log: analyses and additions
        </Link>
      </p>
    </>
  )
}
