import type { CodeShape } from '@haspwright/engine'
import { Link } from '@tanstack/react-router'
import { useRef, useState } from 'react'
import { useCodeSpaces } from '../api/codes.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { SpaceSheet } from './SpaceSheet.tsx'
import { TryRules } from './TryRules.tsx'
import '../fields/fields.css'
import '../orders/order-page.css'
import '../mechanism/mechanism.css'
import './codes.css'

/** How many codes each design has, how far they are given out, and what the rules cost. No code is shown here. */
export function CodesPage() {
  const spaces = useCodeSpaces()
  usePageTitle('Codes')
  const [tried, setTried] = useState<{ shape: CodeShape; from: string }>()
  const form = useRef<HTMLElement>(null)
  if (spaces.isPending) return <Waiting what="the codes" />
  if (spaces.isError) return <FaultPage error={spaces.error} retry={() => void spaces.refetch()} />
  const tryShape = (shape: CodeShape, from: string) => {
    setTried({ shape, from })
    form.current?.scrollIntoView({ block: 'start' })
    form.current?.focus({ preventScroll: true })
  }
  return (
    <div className="page codes-page">
      <h1>Codes</h1>
      <p className="lead">
        How many codes each design has and how far they are given out. Counts alone: no code is shown here.{' '}
        <Link to="/codes/charts" className="tap">
          Charts of keys and locks
        </Link>
        {' · '}
        <Link to="/codes/custody" className="tap">
          Who has which codes
        </Link>
      </p>
      {spaces.data.length === 0 ? <p className="quiet">No design is stored yet.</p> : null}
      {spaces.data.map((space) => (
        <SpaceSheet
          key={space.design}
          space={space}
          sharedWith={spaces.data.filter((other) => other.space === space.space && other.design !== space.design)}
          onTry={tryShape}
        />
      ))}
      <TryRules key={tried?.from ?? ''} ref={form} start={tried} />
    </div>
  )
}
