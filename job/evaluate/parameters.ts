import type { Group, Values } from '../interpret/index.ts'

/** Numbers by which sizes are told from what notches answered. */
export const sizing = {
  leastNotches: {
    value: 4,
    unit: 'notches of a kind',
    reason: 'a curve has two numbers of its own: four notches are the fewest that can also contradict it twice'
  },
  notchOverNoise: {
    value: 3,
    unit: 'deviations of the noise',
    reason: 'a notch below this may be noise: it bears no curve (three to one is common practice)'
  },
  leftOut: {
    value: 0.05,
    unit: '1',
    reason: 'share of cases that an interval or a one-sided bound of a size may miss: 95 % is the habit of the trade'
  },
  notchScatter: {
    value: 0.03,
    unit: 'share of the answer',
    reason: 'cut width and certified depth differ between notches by a few percent: less is not claimed however quiet'
  },
  lengthScatter: {
    value: 0.03,
    unit: 'share of the footprint',
    reason: 'the shape of the footprint is known no better than this, so that lengths told through it are neither'
  },
  turnScatter: {
    value: 0.03,
    unit: 'rad',
    reason: 'angles of one notch differ by one to two degrees between scans: less is not claimed however quiet'
  },
  turnSurely: {
    value: 2,
    unit: 'standard errors',
    reason: 'below this the turn of the angle with depth is not told from none, and depth is not read from it'
  },
  disagreement: {
    value: 6.63,
    unit: 'chi-square, 1 degree of freedom',
    reason: 'amplitude and angle that differ by more come by chance once in a hundred: something else is in the angle'
  },
  kindsDiffer: {
    value: 9.21,
    unit: 'chi-square, 2 degrees of freedom',
    reason: 'corner and mid-bore notches share one law unless that is contradicted at one in a hundred'
  },
  aspectSpread: {
    value: 0.4,
    unit: 'natural logarithm of length over depth',
    reason:
      'cracks in holes: median 1.39, between the 1 of corner notches and the 2 of mid-bore notches; twice this covers both'
  },
  notchAspect: {
    value: 0.04,
    unit: 'natural logarithm of length over depth',
    reason: 'depth and length of a notch are certified to a few percent: less scatter of its proportions is not claimed'
  },
  otherProportions: {
    value: 0.01,
    unit: '1',
    reason:
      'share of flaws taken to be of other proportions than the notches: an extent along the axis that says so at one in a hundred is believed'
  },
  faceScatter: {
    value: 0.08,
    unit: 'mm',
    reason: 'a face is found, and a flaw at it ends, to a third of a revolution of usual pitch'
  },
  alike: {
    value: 0.5,
    unit: 'correlation',
    reason:
      'noise of the wall is seen by several revolutions at once: lift-off differs between neighbors, the wall does not; half'
  },
  worstFit: {
    value: 0.25,
    unit: 'share of the answer',
    reason: 'a law that misses its own notches by a quarter says nothing between them'
  },
  straight: {
    value: 0.15,
    unit: 'natural logarithm of depth',
    reason: 'a line that misses its own notches by more than 15 % in depth is no straight scale'
  },
  plateau: {
    value: 0.2,
    unit: 'share of the answer a share of the depth',
    reason: 'where five percent more depth change the answer by less than one percent, noise decides the depth'
  }
} as const satisfies Group

export type Sizing = Values<typeof sizing>
