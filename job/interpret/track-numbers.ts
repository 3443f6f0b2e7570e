import type { Group, Values } from './parameters.ts'

/** Numbers by which what stands out of a plate is followed along a track; levels as shares of the alarm slot or of a rise. */
export const following = {
  screen: {
    value: 0.25,
    unit: 'of the alarm level',
    reason: 'an edge is followed from here on, so that the threshold, never below twice this, cuts nothing off'
  },
  least: {
    value: 0.5,
    unit: 'of the alarm level',
    reason: 'half of the alarm is told too, undecided: a short or shallow flaw is named before it is dismissed'
  },
  reach: {
    value: 1,
    unit: 'widths of the field',
    reason: 'the end of a flaw is no sharper than the field: over twice this a flaw rises wholly and a plate hardly'
  },
  returned: {
    value: 0.35,
    unit: 'of the rise',
    reason: 'the plate on both sides of a flaw differs by less than this, or the flaw has not ended yet'
  },
  flat: {
    value: 1,
    unit: 'widths of the field',
    reason: 'without an edge over so long, the plate has been reached again'
  },
  around: {
    value: 20,
    unit: 'widths of the field',
    reason:
      'level over so long without coming back is a plate of its own, or a flaw so long that its two ends are told one by one'
  },
  sharp: {
    value: 1.2,
    unit: 'widths of the field',
    reason:
      'a cut end rises from a fifth to four fifths over 0.7, a tapered one over somewhat more; a plate over twice that'
  },
  own: {
    value: 20,
    unit: 'degrees',
    reason:
      'a gentle step is the plate’s only at an angle so far from the slots’: long cracks taper, and lean by less than this'
  },
  gentle: {
    value: 1.8,
    unit: 'widths of the field',
    reason: 'a part whose steeper end takes so long, two and a half times a cut end, rises as a plate does'
  },
  far: {
    value: 45,
    unit: 'degrees',
    reason: 'nearer to the plate’s own ways than to the slots’: a gentle part so far from them is no flaw'
  },
  narrow: {
    value: 0.5,
    unit: 'widths of the field',
    reason: 'nothing on a plate shows narrower than the field; below the alarm level what does is noise'
  },
  worth: {
    value: 0.6,
    unit: 'of the least level',
    reason: 'what came back and never stood so high is noise at an edge, whatever the null beside it is: not kept'
  },
  alike: {
    value: 0.5,
    unit: 'of the higher end',
    reason: 'the two ends of one flaw are steps of like height; a flaw twice as deep at one end has another shape'
  }
} as const satisfies Group

export type Following = Values<typeof following>
