/** The name under which the shop's own record is kept beside the jobs. No job may bear it. */
export const shopChain = '(shop)'
