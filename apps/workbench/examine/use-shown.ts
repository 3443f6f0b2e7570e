import type { Standardization } from '@trueloop/job/standardize'
import { useMemo } from 'react'
import type { StoredExamination } from '../asking/client.ts'
import { usePreview } from '../preview/use-preview.ts'
import {
  conditioned,
  recorded,
  type SignalState,
  type StatedWall,
  standardized,
  unturned
} from '../wall/signal-states.ts'
import type { WallSignal } from '../wall/wall.ts'
import type { Notch } from './loop.tsx'

interface Asked {
  readonly job: string
  readonly scan: string
  readonly document: StoredExamination['document']
  readonly wall: WallSignal
  readonly standardization: Standardization | undefined
  readonly state: SignalState
}

interface Shown {
  readonly stated: StatedWall
  readonly notch: Notch | undefined
  /** what has to be said of what is shown */
  readonly note: string | undefined
}

/** The signal in the state that is asked for, as far as it is there yet; the notch's loop in the same units. */
export function useShown({ job, scan, document, wall, standardization, state }: Asked): Shown {
  const preview = usePreview({ job, examination: scan, recording: document.recording }, state === 'recorded')
  const placed = preview.data?.placed
  const stated = useMemo(() => {
    const { turn } = standardization ?? {}
    if (state === 'recorded' && placed !== undefined && turn !== undefined) return recorded(placed, turn)
    return state === 'conditioned' && turn !== undefined ? conditioned(wall, turn) : standardized(wall)
  }, [state, placed, wall, standardization])
  const notch = useMemo(() => notchIn(stated.unit, standardization), [stated.unit, standardization])
  return { stated, notch, note: noteOf(preview, { asked: state, shown: stated.state }) }
}

interface States {
  readonly asked: SignalState
  readonly shown: SignalState
}

/** What is shown is never passed off for what was asked for. */
function noteOf(
  { data, error, isFetching }: ReturnType<typeof usePreview>,
  { asked, shown }: States
): string | undefined {
  const meanwhile = shown === asked ? '' : `; ${shown} is shown`
  if (asked !== 'recorded') return meanwhile === '' ? undefined : `no standardization to turn back by${meanwhile}`
  if (error !== null) return `the recording can not be shown: ${error.message}${meanwhile}`
  if (data === undefined) return isFetching ? `the recording is being read …${meanwhile}` : undefined
  return data.same
    ? `examined once more in this page: the same findings${meanwhile}`
    : `examined once more in this page: other findings; verify the job${meanwhile}`
}

function notchIn(unit: StatedWall['unit'], standardization: Standardization | undefined): Notch | undefined {
  if (standardization === undefined) return undefined
  const { form, named, turn } = standardization
  if (unit === 'notch') return { named, x: form.x, y: form.y }
  const points = form.x.map((x, at) => unturned(turn, x, form.y[at] ?? 0))
  return { named, x: points.map(([x]) => x), y: points.map(([, y]) => y) }
}
