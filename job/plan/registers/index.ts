export { type PersonRow, personRowSchema, publicKeySchema } from './person.ts'
