import { type OpenedLink, ROLES, type Role } from '@haspwright/server/client'
import { useQuery } from '@tanstack/react-query'
import { Link, useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useSignedInAnew } from '../api/people.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { EntryField, NotDone } from './EntryField.tsx'
import { RoleChoice } from './RoleChoice.tsx'
import { SecondFactorStep } from './SecondFactorStep.tsx'
import '../fields/fields.css'
import './people.css'

/** Coming in by a link: the first administrator, somebody invited, or somebody with a new password. */
export function InvitationPage() {
  const link = useLink()
  const opened = useQuery({
    queryKey: ['link'],
    queryFn: () => client.openLink(link),
    retry: false,
    gcTime: 0,
    staleTime: Number.POSITIVE_INFINITY,
    refetchOnWindowFocus: false,
    enabled: link !== '',
  })
  usePageTitle('Come in')
  if (link === '' || opened.isError)
    return (
      <div className="page entrance">
        <h1>This link leads nowhere</h1>
        <p className="lead">{opened.error?.message ?? 'It is not whole. Copy it again, to its last letter.'}</p>
        <p>
          <Link to="/sign-in" className="tap">
            Sign in
          </Link>
        </p>
      </div>
    )
  if (opened.isPending) return <Waiting what="the link" />
  return <ComeIn link={link} opened={opened.data} />
}

/** The secret is behind the `#`, which no server is sent; it does not stay in the address bar either. */
function useLink(): string {
  const [link] = useState(() => location.hash.slice(1))
  return link
}

const TITLES: Readonly<Record<OpenedLink['kind'], string>> = {
  'set-up': 'Set up Haspwright',
  invitation: 'Come in',
  'new-password': 'Choose a new password',
}

function ComeIn({ link, opened }: { link: string; opened: OpenedLink }) {
  const navigate = useNavigate()
  const signedInAnew = useSignedInAnew()
  const [name, setName] = useState(opened.name ?? '')
  const [email, setEmail] = useState(opened.email ?? '')
  const [password, setPassword] = useState('')
  const [alsoAs, setAlsoAs] = useState<readonly Role[]>(['engineer'])
  const [second, setSecond] = useState(false)
  const first = opened.kind === 'set-up'
  const accept = useAct(
    () =>
      client.acceptLink({
        link,
        password,
        name: name.trim(),
        ...(first ? { email: email.trim(), roles: alsoAs } : {}),
      }),
    [],
  )
  const enter = async () => {
    await signedInAnew()
    await navigate({ to: first ? '/account' : '/', replace: true })
  }
  const ready = name.trim() !== '' && email.trim() !== '' && password.length >= 12
  if (second)
    return (
      <div className="page entrance">
        <h1>Sign in</h1>
        <SecondFactorStep onDone={() => void enter()} onBack={() => setSecond(false)} />
      </div>
    )
  return (
    <div className="page entrance">
      <h1>{TITLES[opened.kind]}</h1>
      <p className="lead">{leadOf(opened)}</p>
      <form
        className="form entrance-form"
        aria-label={TITLES[opened.kind]}
        onSubmit={(event) => {
          event.preventDefault()
          if (!ready) return
          accept.mutate(undefined, { onSuccess: ({ signedIn }) => (signedIn ? void enter() : setSecond(true)) })
        }}
      >
        {opened.kind === 'new-password' ? null : (
          <EntryField label="Your name" autoComplete="name" maxLength={80} value={name} onChange={setName} />
        )}
        {first ? (
          <EntryField label="E-mail address" type="email" autoComplete="username" value={email} onChange={setEmail} />
        ) : null}
        <EntryField
          label="Password"
          type="password"
          autoComplete="new-password"
          hint="At least 12 characters. Several words in a row are easier to keep in mind than signs."
          value={password}
          onChange={setPassword}
        />
        {first ? (
          <RoleChoice
            legend="You also work as"
            chosen={alsoAs}
            onChange={setAlsoAs}
            without={['administrator', 'registrar', 'builder']}
          />
        ) : null}
        <NotDone error={accept.error} />
        <p className="buttons">
          <button type="submit" className="button primary" disabled={!ready || accept.isPending}>
            {accept.isPending ? 'Coming in …' : 'Come in'}
          </button>
        </p>
      </form>
    </div>
  )
}

function leadOf({ kind, email, roles }: OpenedLink): string {
  if (kind === 'set-up')
    return 'You are the first. You become the administrator: you invite the others and give them their roles, and see no codes yourself.'
  if (kind === 'new-password') return `For ${email}. Everywhere else you are signed out.`
  const titles = roles.map((role) => ROLES[role as Role]?.title ?? role) // the server checked them
  return `You sign in as ${email}${titles.length === 0 ? '' : `, and work as ${titles.join(', ').toLowerCase()}`}.`
}
