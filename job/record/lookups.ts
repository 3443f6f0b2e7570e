import type { Examination } from '../examine/index.ts'
import type { ReportInput } from './report-input.ts'
import type { ExaminationState, JobState, PlaceState } from './state.ts'

/** How sections find what belongs together. */

export const examinationOf = (input: ReportInput, { examination }: ExaminationState): Examination | undefined =>
  input.examinations.find(({ hash }) => hash === examination)?.document

/** Name of the reference standard whose scan an examination rests on. */
export const standardOf = (input: ReportInput, { standardization }: ExaminationState): string | undefined =>
  input.standardizations.find(({ hash }) => hash === standardization)?.document.standard

export const placeWord = ({ place }: PlaceState): string => `${place.of} ${place.name}`

/** What the places of this job are called: holes, tracks, or recordings without a position. */
export const placesWord = ({ state }: ReportInput): string =>
  ({ 'fastener hole': 'holes', weld: 'tracks', loop: 'recordings' })[state.opened.application]

export const namesOf = (places: readonly PlaceState[]): string => places.map(({ place }) => place.name).join(', ')

/** Numbers of the methods by which the record's examinations were made. */
export const methodsOf = ({ places }: JobState): readonly number[] => [
  ...new Set(places.flatMap(({ examinations }) => examinations.map(({ method }) => method)))
]
