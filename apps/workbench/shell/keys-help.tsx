import { useRef } from 'react'
import { usePreferences } from './preferences.tsx'
import { useKeys } from './use-keys.ts'

const keyRows: readonly (readonly [string, string])[] = [
  ['n', 'next place that waits for a person'],
  ['. ,', 'next place, place before'],
  ['] [', 'next indication, indication before'],
  ['1 2 3', 'signal as recorded, conditioned, standardized'],
  ['arrows', 'on the map: the chosen place; with shift: the view'],
  ['+ − 0', 'on the map: nearer, farther, whole wall'],
  ['r d o f', 'class: relevant, damage, nonrelevant, false'],
  ['c m x e', 'disposition: no recordable indication, clean-up ream, reject, refer'],
  ['s', 'sign and record'],
  ['?', 'these keys']
]

/** All keys of the page; and whether they do anything. */
export function KeysHelp() {
  const dialog = useRef<HTMLDialogElement>(null)
  const { chosen, choose } = usePreferences()
  useKeys({ '?': () => dialog.current?.showModal() })
  return (
    <>
      <button type="button" onClick={() => dialog.current?.showModal()}>
        Keys
      </button>
      <dialog ref={dialog} aria-label="keys">
        <h2>Keys</h2>
        <dl className="keys">
          {keyRows.map(([key, does]) => (
            <div key={key}>
              <dt>{key}</dt>
              <dd>{does}</dd>
            </div>
          ))}
        </dl>
        <label className="person-choice">
          <input type="checkbox" checked={chosen.keys} onChange={({ target }) => choose({ keys: target.checked })} />
          <span>Keys do this wherever the page is; without, on the map alone</span>
        </label>
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </dialog>
    </>
  )
}
