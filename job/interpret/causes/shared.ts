import type { Declared } from '../parameters.ts'

/** Declared numbers of one kind that several causes state alike. */
export const declared = (value: number, unit: string, reason: string): Declared => ({ value, unit, reason })

/** How much a cause weighs that only the drawing can confirm. */
export const DRAWN = declared(
  0.55,
  'score',
  'enough to be told and, where the technique lists it, to be taken; never enough to stand before a cause that shows itself'
)

/** What may stand on a mark and still be of the mark. */
export const PLAIN = {
  plainNone: declared(7, 'signal to noise', 'something along a notch stands on it: it may be a crack under a mark'),
  plainFull: declared(
    4,
    'signal to noise',
    'the angle of a mark wavers along its run, and the largest of many looks is taken'
  )
}

/** How near to a face the middle of something has to lie to be of that face. */
export const FACE = {
  faceNone: declared(1.2e-3, 'm', 'a footprint: farther away the coil does not see the face'),
  faceFull: declared(
    0.6e-3,
    'm',
    'half a footprint: a face is seen on both sides of it, and placed to about the pitch'
  ),
  longNone: declared(2.5, 'times the rows expected', 'so long a run only passes a face'),
  longFull: declared(1.5, 'times the rows expected', 'a face is seen over the footprint')
}
