import { Refused, Unreached } from '../asking/client.ts'
import { useWriting } from '../units/use-writing.ts'
import type { Told } from './told.ts'

type Shown = Pick<Told, 'found' | 'needed' | 'remedy'>

/** What was not possible, in the three parts of every refusal. */
export function RefusalList({ refusals }: { readonly refusals: readonly Shown[] }) {
  const { sentence } = useWriting()
  return (
    <div className="refusals" role="alert">
      {refusals.map((one) => (
        <dl key={one.found + one.needed} className="refusal">
          <dt>Found</dt>
          <dd>{sentence(one.found)}</dd>
          <dt>Needed</dt>
          <dd>{sentence(one.needed)}</dd>
          <dt>What to do</dt>
          <dd>{sentence(one.remedy)}</dd>
        </dl>
      ))}
    </div>
  )
}

const unreached: Shown = {
  found: 'no answer of the service',
  needed: 'the program that has opened this page',
  remedy: 'start it again (what was said meanwhile waits in this page); the page goes on by itself'
}

const fault = (error: unknown): Shown => ({
  found: error instanceof Error ? error.message : String(error),
  needed: 'an answer that this page can read',
  remedy: 'load the page again; if it comes back, report it as a defect'
})

/** An error of any kind, as a refusal. */
export function Trouble({ error }: { readonly error: unknown }) {
  if (error instanceof Refused) return <RefusalList refusals={error.refusals} />
  return <RefusalList refusals={[error instanceof Unreached ? unreached : fault(error)]} />
}
