/**
 * Who may do what in the database: the administrator starts the server and makes the others, the owner holds the tables
 * and changes their form, the server role reads and writes rows but can neither change nor delete an event.
 */
export const ADMINISTRATOR = 'haspwright_administrator'
export const OWNER = 'haspwright_owner'
export const SERVER = 'haspwright_server'
export const DATABASE = 'haspwright'
