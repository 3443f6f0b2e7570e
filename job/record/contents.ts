/** One thing that a report is asked for, and where it answers. */
export interface Content {
  readonly line: string
  /** section by its title; the foot of each page for what only a print has */
  readonly section: string | 'foot of each page'
  /** label of the fact, caption of the table, column of a table, or beginning of the sentence that answers */
  readonly label: string
  /** what the section says where the record holds nothing of the kind, if that is not "not stated" beside the label */
  readonly otherwise?: string
}

const identification = 'Job and component'
const technique = 'Technique and equipment'
const results = 'Results'
const findings = 'Findings'
const joined = 'Indications, joined over all scans'
const places = 'Places and scans'

/** Nothing was found, so that no line of a finding can be there. */
const noFinding = 'No indication was kept in any examined zone.'
const noJoined = 'No scan of any place has an indication.'
const noScan = 'Scans: none was examined.'
const nothing = 'Nothing has been examined.'
const noRegister = 'Nothing was looked up in a register'
const noReference = 'No reference scan has been standardized.'

/**
 * What a report as a whole must hold: the union of the lists for reports of testing laboratories, for coating
 * measurements (ISO 2360), for eddy-current procedures of pressure vessels (ASME VIII-2, 7.5.8) and, from memory, for
 * eddy-current testing in general (ISO 15549). source: iso17025-2005, 5.10.2
 */
export const ofReport: readonly Content[] = [
  { line: 'title', section: 'Examination record', label: 'Examination record' },
  { line: 'laboratory', section: identification, label: 'Laboratory' },
  { line: 'place', section: identification, label: 'Place' },
  { line: 'unique number', section: identification, label: 'Job' },
  { line: 'page identification', section: 'foot of each page', label: 'Page' },
  { line: 'client', section: identification, label: 'Client' },
  { line: 'method', section: identification, label: 'Examination' },
  { line: 'item description and identity', section: identification, label: 'Component' },
  { line: 'item condition', section: identification, label: 'Condition of the component' },
  { line: 'dates of the work', section: identification, label: 'Scans taken' },
  { line: 'date of the report', section: identification, label: 'Report' },
  { line: 'results with units', section: findings, label: 'Amplitude', otherwise: noFinding },
  { line: 'name, function and signature of the releasing person', section: identification, label: 'Released by' },
  { line: 'retention', section: identification, label: 'Retention' },
  { line: 'results relate only to the items examined', section: identification, label: 'The results relate only' },
  { line: 'standard and its date', section: technique, label: 'Standard followed' },
  { line: 'places measured', section: results, label: 'Place', otherwise: 'Not examined.' },
  { line: 'number of readings', section: 'Coverage', label: 'Readings', otherwise: nothing },
  { line: 'mean and deviation of the readings', section: 'Coverage', label: 'Noise', otherwise: nothing },
  { line: 'operator', section: identification, label: 'Examined by' },
  { line: 'unusual features', section: 'Coverage', label: 'Unusual features' },
  { line: 'deviations from the procedure', section: technique, label: 'Deviations from the procedure' },
  { line: 'instrument, maker and model', section: technique, label: 'Instrument, maker and model' },
  { line: 'probe', section: technique, label: 'Probe' },
  {
    line: 'reference standard with its validation',
    ...{ section: 'Standardization', label: 'Certificate of the standard', otherwise: noReference }
  },
  { line: 'software title and version', section: 'Record', label: 'Program' },
  { line: 'frequencies', section: technique, label: 'Excitation frequency' },
  { line: 'reporting thresholds', section: technique, label: 'Alarm level' },
  { line: 'data review', section: technique, label: 'Data review' },
  { line: 'procedure number and revision', section: technique, label: 'Technique' },
  { line: 'surface and coating', section: places, label: 'Surface and coating' },
  { line: 'reference block', section: 'Standardization', label: 'Reference standard', otherwise: noReference },
  { line: 'set-up values', section: technique, label: 'Gain' },
  {
    line: 'check values',
    ...{
      section: 'Rechecks',
      label: 'Notch drift since the standardization',
      otherwise: 'No recheck is in the record.'
    }
  },
  { line: 'extent examined', section: results, label: 'Result', otherwise: 'Not examined.' },
  {
    line: 'extent not examined',
    ...{ section: 'Not examined', label: 'Not examined, in whole or in part', otherwise: 'No recording was taken.' }
  },
  { line: 'limitations', section: 'Limitations and cautions', label: 'Capability' },
  { line: 'indications', section: joined, label: 'Indications of all scans', otherwise: noJoined },
  { line: 'acceptance criteria', section: technique, label: 'Acceptance criteria' },
  { line: 'certificates of personnel', section: technique, label: 'Certificate' },
  {
    line: 'verification of the equipment, and until when it holds',
    ...{ section: technique, label: 'Holds', otherwise: noRegister }
  }
]

/** What the lines of a hole and of a finding must hold; common practice, no source, but for the words. */
export const ofPlace: readonly Content[] = [
  { line: 'hole', section: places, label: 'Place' },
  { line: 'zone', section: 'Coverage', label: 'Zone', otherwise: nothing },
  { line: 'layers', section: places, label: 'Layers' },
  { line: 'nominal diameter', section: places, label: 'Nominal diameter' },
  { line: 'measured diameter', section: places, label: 'Measured diameter' },
  { line: 'oversize step', section: places, label: 'Oversize step' },
  { line: 'standard used', section: places, label: 'Reference standard', otherwise: noScan },
  { line: 'file name', section: 'Recordings', label: 'Recording', otherwise: 'No recording is kept.' },
  { line: 'hash of the file', section: 'Recordings', label: 'SHA-256', otherwise: 'No recording is kept.' },
  { line: 'start', section: places, label: 'Begun', otherwise: noScan },
  { line: 'end', section: places, label: 'Lasted', otherwise: noScan },
  { line: 'check before', section: places, label: 'Check before', otherwise: noScan },
  { line: 'check after', section: places, label: 'Check after', otherwise: noScan },
  { line: 'result', section: results, label: 'State', otherwise: 'not examined' },
  { line: 'reason where not examined', section: 'Not examined', label: 'Reason', otherwise: 'No recording was taken.' },
  { line: 'clock angle', section: findings, label: 'Angle', otherwise: noFinding },
  { line: 'depth from the face', section: findings, label: 'Depth', otherwise: noFinding },
  { line: 'layer of the finding', section: findings, label: 'Zone', otherwise: noFinding },
  { line: 'amplitude in % and dB to the notch', section: findings, label: 'Amplitude', otherwise: noFinding },
  { line: 'phase', section: findings, label: 'Phase angle', otherwise: noFinding },
  { line: 'length', section: findings, label: 'Length', otherwise: noFinding },
  { line: 'depth with its interval', section: findings, label: 'Notch-equivalent depth', otherwise: noFinding },
  { line: 'class', section: joined, label: 'Interpretation', otherwise: noJoined },
  { line: 'disposition', section: joined, label: 'Disposition', otherwise: noJoined },
  { line: 'inspector', section: joined, label: 'Examined by', otherwise: noJoined },
  { line: 'second look', section: joined, label: 'Second look', otherwise: noJoined },
  { line: 'visual finding', section: places, label: 'Visual finding' },
  { line: 'photo', section: places, label: 'Photo' }
]
