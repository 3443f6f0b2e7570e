import { type Preferences, usePreferences } from './preferences.tsx'

/** How figures are written: switched at once, on every page. */
export function WritingBar() {
  return (
    <fieldset className="writing" aria-label="how figures are written">
      <Pair of="length" first="mm" second="inch" />
      <Pair of="angle" first="degrees" second="clock" />
      <Pair of="amplitude" first="share" second="dB" />
      <Theme />
    </fieldset>
  )
}

type Switched = 'length' | 'angle' | 'amplitude'

interface PairProps<K extends Switched> {
  readonly of: K
  readonly first: Preferences[K]
  readonly second: Preferences[K]
}

function Pair<K extends Switched>({ of, first, second }: PairProps<K>) {
  const { chosen, choose } = usePreferences()
  const is = chosen[of]
  const other = is === first ? second : first
  return (
    <button
      type="button"
      className="pair"
      onClick={() => choose({ [of]: other })}
      aria-label={`${first} ${second}: ${of} in ${is}`}
    >
      <span className={is === first ? 'on' : 'off'}>{first}</span>{' '}
      <span className={is === second ? 'on' : 'off'}>{second}</span>
    </button>
  )
}

const themes: readonly Preferences['theme'][] = ['as the system', 'light', 'dark']

function Theme() {
  const { chosen, choose } = usePreferences()
  const next = themes[(themes.indexOf(chosen.theme) + 1) % themes.length]!
  return (
    <button
      type="button"
      className="pair"
      onClick={() => choose({ theme: next })}
      aria-label={`${chosen.theme}: light or dark`}
    >
      <span className="on">{chosen.theme}</span>
    </button>
  )
}
