import { useRef } from 'react'
import { useConnection } from '../asking/connection.ts'
import { useOutbox } from '../outbox/use-outbox.ts'
import { useSession, useSigning } from './session.ts'
import { SignIn } from './sign-in.tsx'

/** Who signs at this page now, and what of theirs waits. */
export function Person() {
  const session = useSession()
  const { lock } = useSigning()
  const { all } = useOutbox()
  const answers = useConnection()
  const dialog = useRef<HTMLDialogElement>(null)
  const waiting = all.filter(({ refused }) => refused === undefined).length
  const refused = all.length - waiting
  return (
    <div className="person">
      {answers ? null : (
        <span className="waits" role="status">
          the service does not answer; what you state waits here
        </span>
      )}
      {waiting > 0 ? <span className="waits" role="status">{`${waiting} waiting to be recorded`}</span> : null}
      {refused > 0 ? <span className="failed" role="status">{`${refused} refused`}</span> : null}
      {session?.person === undefined ? (
        <button type="button" onClick={() => dialog.current?.showModal()}>
          Sign in
        </button>
      ) : (
        <>
          <span className="who" title={`${session.person.name}, level ${session.person.level}`}>
            <b>{session.person.name}</b>
            <span className="quiet">{` level ${session.person.level}`}</span>
          </span>
          <button type="button" onClick={() => lock.mutate()}>
            Lock
          </button>
        </>
      )}
      <SignIn dialog={dialog} session={session} />
    </div>
  )
}
