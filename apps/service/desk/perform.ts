import type { Result } from '@trueloop/ground/refusal'
import {
  closePlaces,
  cutHole,
  type Decided,
  decide,
  drawPlaces,
  leaveOut,
  lookAgain,
  note,
  type Signing,
  state,
  takeOver,
  withdraw
} from '@trueloop/host/decide'
import type { Statement } from '../api/schemas/index.ts'

/** Does what a statement says exactly as the command of the same meaning does. */
export function perform(
  asked: Statement,
  signing: Signing,
  before_proposal: readonly string[]
): Promise<Result<Decided>> {
  switch (asked.what) {
    case 'decide':
      return decide({ ...asked, before_proposal }, signing)
    case 'look again':
      return lookAgain(asked, signing)
    case 'withdraw':
      return withdraw(asked, signing)
    case 'close places':
      return closePlaces(asked.places, signing)
    case 'leave out':
      return leaveOut(asked.places, asked.reason, signing)
    case 'cut':
      return cutHole(asked, signing)
    case 'note':
      return note(asked, signing)
    case 'place on a drawing':
      return drawPlaces({ drawing: asked.drawing, places: asked.marks }, signing)
    case 'hand over':
      return state({ kind: 'handed-over', to: asked.to, note: asked.note }, signing)
    case 'take over':
      return takeOver(signing)
    case 'close job':
      return state({ kind: 'job-closed', ...(asked.remarks === undefined ? {} : { remarks: asked.remarks }) }, signing)
    case 'open job again':
      return state({ kind: 'job-reopened', reason: asked.reason }, signing)
  }
}
