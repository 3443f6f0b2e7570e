import { type FormEvent, type RefObject, useState } from 'react'
import { Trouble } from '../shell/refusals.tsx'
import { type SessionView, useSigning } from './session.ts'

interface SignInProps {
  readonly dialog: RefObject<HTMLDialogElement | null>
  readonly session: SessionView | undefined
}

/** Opens a person's key for this page. */
export function SignIn({ dialog, session }: SignInProps) {
  const { signIn } = useSigning()
  const [name, setName] = useState('')
  const [passphrase, setPassphrase] = useState('')
  const close = () => {
    setPassphrase('')
    signIn.reset()
    dialog.current?.close()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    signIn.mutate({ name, passphrase }, { onSuccess: close, onError: () => setPassphrase('') })
  }
  const people = session?.people ?? []
  return (
    <dialog ref={dialog} className="sign-in" aria-label="sign in" onClose={close}>
      <form onSubmit={submit}>
        <h2>Sign in</h2>
        <p>What you state is signed with your key. The program proposes; you decide.</p>
        {session?.registers === false ? (
          <p className="failed">Nobody is registered in this archive: nothing can be signed here.</p>
        ) : null}
        <fieldset className="people" aria-label="person">
          {people.map((person) => (
            <label key={person.name} className={person.may && person.key ? 'person-choice' : 'person-choice off'}>
              <input
                type="radio"
                name="person"
                value={person.name}
                checked={name === person.name}
                disabled={!person.may || !person.key}
                onChange={() => setName(person.name)}
              />
              <span>{person.name}</span>
              <span className="quiet">
                {person.may && person.key ? `level ${person.level}` : (person.why ?? 'no key on this computer')}
              </span>
            </label>
          ))}
        </fieldset>
        <label className="field">
          <span>Passphrase</span>
          <input
            type="password"
            autoComplete="off"
            value={passphrase}
            onChange={({ target }) => setPassphrase(target.value)}
          />
        </label>
        {session?.demonstration === undefined ? null : (
          <p className="demonstration">{`Demonstration, all people invented. Passphrase: ${session.demonstration.passphrase}`}</p>
        )}
        {signIn.error === null ? null : <Trouble error={signIn.error} />}
        <div className="buttons">
          <button type="submit" className="action" disabled={name === '' || passphrase === '' || signIn.isPending}>
            {signIn.isPending ? 'opening the key …' : 'Sign in'}
          </button>
          <button type="button" onClick={close}>
            Cancel
          </button>
        </div>
      </form>
    </dialog>
  )
}
