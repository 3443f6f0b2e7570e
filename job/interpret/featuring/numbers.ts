import type { Group, Values } from '../parameters.ts'

/** Numbers by which places are measured. None of them decides anything by itself. */
export const FEATURING = {
  half: {
    value: 0.5,
    unit: 'share of the peak',
    reason: 'length by −6 dB (trade): the distance between the points of half the amplitude'
  },
  follow: {
    value: 0.25,
    unit: 'lobe spacings per revolution',
    reason:
      'a ridge may wander by a quarter of the notch in a revolution: further, and it would step over to a neighbor'
  },
  climb: {
    value: 3,
    unit: 'revolutions',
    reason: 'a place found on joined revolutions lies this near to the strongest single one'
  },
  sideLobe: {
    value: 1.75,
    unit: 'of the notch’s own side lobe',
    reason:
      'a crack’s form is not the notch’s, and the band rings: a side lobe may be this much stronger than predicted'
  },
  mean: {
    value: 7,
    unit: 'revolutions',
    reason:
      'an angle is read over the revolutions that answer at half the peak or more, no further than the notches reach'
  },
  fade: {
    value: 0.2,
    unit: 'share of the peak',
    reason: 'a ridge is kept past its −6 dB points as far as it can be told from its neighbors, for the picture alone'
  },
  notchSpan: {
    value: 60,
    unit: 'degrees',
    reason:
      'notches of one kind turn with depth by less than this; an angle between two that are nearer lies among them'
  },
  combLeast: {
    value: 4,
    unit: 'lines per revolution',
    reason: 'run-out, ovality and three lobes are 1, 2 and 3 a revolution; chatter begins above'
  },
  combTurns: { value: 4, unit: 'revolutions', reason: 'as many as a line needs to stand out of noise twice as strong' },
  smooth: {
    value: 0.25,
    unit: 'lobe spacings',
    reason:
      'a mean over half a lobe to both sides leaves the notch whole but for a twelfth, and wipes out narrower things'
  }
} as const satisfies Group

export type FeatureValues = Values<typeof FEATURING>
