export { checkResponse, type ResponseDocument, type ResponseReading, responseOf } from './read.ts'
export { type ResponseRatio, type ResponseStudy, responseRatioSchema, responseStudySchema } from './schema.ts'
