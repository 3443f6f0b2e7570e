import type { StudyResult } from '@trueloop/job/prove'
import { agreement } from './agreement.ts'
import type { StudyDoor } from './door.ts'
import { gauge } from './gauge.ts'
import { hits } from './hits.ts'
import { instruments } from './instruments.ts'
import { noise } from './noise.ts'
import { operating } from './operating.ts'
import { signals } from './signals.ts'
import { thresholds } from './thresholds.ts'

/** Every study that is worked out of rows. One line here, one file beside. */
export const studyDoors: readonly StudyDoor[] = [
  hits,
  signals,
  noise,
  thresholds,
  operating,
  gauge,
  agreement,
  instruments
]

/** The door of a result's kind. */
export const doorOf = ({ kind }: StudyResult): StudyDoor => studyDoors.find((door) => door.kind === kind) as StudyDoor
