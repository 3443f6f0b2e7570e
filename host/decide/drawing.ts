import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { EntryOf } from '@trueloop/job/record'
import { type Decided, placeIn, subjectOf, write } from './decide.ts'
import type { Signing } from './signer.ts'

/** Drawings and photos of the component, as people bring them and place holes on them. */

type Kept = Pick<EntryOf<'drawing-kept'>, 'sha256' | 'bytes' | 'form' | 'file'> & { readonly title?: string }

/** Records a drawing whose bytes the archive holds; one that the job has under this name already adds nothing. */
export const bringDrawing = (kept: Kept, signing: Signing): Promise<Result<Decided>> =>
  write(signing, ({ state: { drawings } }) => {
    const before = drawings.find(({ entry }) => entry.sha256 === kept.sha256)
    const isSame = before?.entry.file === kept.file && before.entry.title === kept.title
    return isSame ? [] : [{ kind: 'drawing-kept', ...kept }]
  })

/** A place by its name, and where it lies on a drawing; absent: it is taken off. */
export interface Drawn {
  readonly place: string
  readonly at?: { readonly x: number; readonly y: number; readonly page: number }
}

/** Says where places lie on a drawing. Refuses decide/no-such-place, and record/nothing-to-decide where the job has no such drawing. */
export const drawPlaces = (
  { drawing, places }: { readonly drawing: string; readonly places: readonly Drawn[] },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, (seen) => {
    const drawn: EntryOf<'places-drawn'>['places'][number][] = []
    for (const { place: name, at } of places) {
      const place = placeIn(seen, name)
      if (isRefusal(place)) return place
      drawn.push({ place: subjectOf(place), ...(at === undefined ? {} : { at }) })
    }
    return [{ kind: 'places-drawn', drawing, places: drawn }]
  })
