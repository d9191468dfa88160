import { type PaperListing, PERMISSIONS } from '@haspwright/server/client'
import { useState } from 'react'
import { usePapers, usePrinting } from '../api/orders.ts'
import { useMay } from '../api/people.ts'
import { WhyNot } from '../people/WhyNot.tsx'
import { WorkLine } from '../work/WorkLine.tsx'
import { CodePaperDialog } from './CodePaperDialog.tsx'
import { paperGroups } from './paper-groups.ts'

/** Travellers, job cards, drawings and lists. They are made when first asked for. */
export function PapersPart({ orderId, current }: { orderId: string; current: boolean }) {
  const papers = usePapers(orderId)
  const [asked, setAsked] = useState<PaperListing>()
  return (
    <section aria-labelledby="papers-title">
      <div className="section-head">
        <h2 id="papers-title">Papers</h2>
        <small>{current ? 'made from this plan' : 'made from the last plan'}</small>
      </div>
      {papers.isPending ? <Printing orderId={orderId} /> : null}
      {papers.isError ? (
        <p>
          The papers could not be listed: {papers.error.message}{' '}
          <button type="button" className="text-button" onClick={() => void papers.refetch()}>
            Try again
          </button>
        </p>
      ) : null}
      {papers.data === undefined ? null : (
        <div className="paper-groups">
          {paperGroups(papers.data).map(({ title, papers: group }) => (
            <div key={title} className="paper-group">
              <h3>{title}</h3>
              {group.some(({ secret }) => secret) ? <WhoOpens /> : null}
              <ul>
                {group.map((paper) => (
                  <li key={paper.path}>
                    <PaperLink paper={paper} onAsk={() => setAsked(paper)} />
                  </li>
                ))}
              </ul>
            </div>
          ))}
        </div>
      )}
      {asked === undefined ? null : (
        <CodePaperDialog orderId={orderId} paper={asked} onClose={() => setAsked(undefined)} />
      )}
    </section>
  )
}

function Printing({ orderId }: { orderId: string }) {
  const job = usePrinting(orderId)
  if (job !== undefined) return <WorkLine job={job} what="Making the papers" />
  return <p className="quiet small papers-wait">Listing the papers …</p>
}

/** Said once above papers with codes: why this person opens none, or not all, of them. */
function WhoOpens() {
  const seesInHand = useMay('codes.see-in-hand')
  return (
    <p className="small quiet">
      {seesInHand ? `You may ${PERMISSIONS['codes.see-in-hand'].may}. ` : ''}
      <WhyNot permission="codes.see" />
    </p>
  )
}

function PaperLink({ paper, onAsk }: { paper: PaperListing; onAsk: () => void }) {
  const seesCodes = useMay('codes.see')
  const seesInHand = useMay('codes.see-in-hand')
  return (
    <>
      {paper.secret && !seesCodes && !seesInHand ? (
        <span>{paper.title}</span>
      ) : paper.secret || paper.href === undefined ? (
        <button type="button" className="text-button" onClick={onAsk}>
          {paper.title}
        </button>
      ) : (
        <a href={paper.href} target="_blank" rel="noreferrer" className="tap">
          {paper.title}
        </a>
      )}{' '}
      <span className="quiet small">{kindOf(paper)}</span>
    </>
  )
}

function kindOf({ mediaType, bytes }: PaperListing): string {
  const kind = mediaType.includes('pdf')
    ? 'PDF'
    : mediaType.includes('svg')
      ? 'SVG'
      : mediaType.includes('csv')
        ? 'CSV'
        : mediaType.includes('text/plain')
          ? 'text'
          : mediaType
  return `${kind}, ${Math.max(1, Math.round(bytes / 1024))}\u202fkB`
}
