import { Link } from '@tanstack/react-router'
import { useDesigns } from '../api/designs.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import './designs.css'

/** All padlock families. */
export function DesignsPage() {
  const designs = useDesigns()
  usePageTitle('Designs')
  if (designs.isPending) return <Waiting what="the designs" />
  if (designs.isError) return <FaultPage error={designs.error} retry={() => void designs.refetch()} />
  return (
    <div className="page">
      <h1>Designs</h1>
      <p className="lead">A design is a padlock family: everything about it that does not depend on an order.</p>
      <table className="orders-table designs-table">
        <thead>
          <tr>
            <th scope="col">Design</th>
            <th scope="col">Number</th>
            <th scope="col">Revision</th>
            <th scope="col">Stored version</th>
          </tr>
        </thead>
        <tbody>
          {designs.data.map(({ id, title, revision, version }) => (
            <tr key={id}>
              <td>
                <Link to="/designs/$designId" params={{ designId: id }} className="order-link tap">
                  {title}
                </Link>
              </td>
              <td className="figure">{id}</td>
              <td className="figure">{revision}</td>
              <td className="figure">{version}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
