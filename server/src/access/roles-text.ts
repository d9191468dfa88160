import { PERMISSIONS, type Permission, ROLE_NAMES, ROLES, SCOPE_NAMES, SCOPES, wantsSecondFactor } from './roles.ts'

/** The page of the docs about roles, made from the table the server decides by. */
export function rolesMarkdown(): string {
  const permissions = Object.keys(PERMISSIONS) as Permission[] // keys of that table
  const row = (cells: readonly string[]) => `| ${cells.join(' | ')} |`
  return [
    '# Who may do what',
    '',
    'Made by `npm run docs:roles` from the table the server decides by (`server/src/access/roles.ts`); the page *Who may do what* shows the same.',
    '',
    ...ROLE_NAMES.map((role) => `* **${ROLES[role].title}** ${ROLES[role].does}.`),
    '',
    row(['May …', ...ROLE_NAMES.map((role) => ROLES[role].title)]),
    row(['---', ...ROLE_NAMES.map(() => '---')]),
    ...permissions.map((permission) =>
      row([
        `${PERMISSIONS[permission].may}${wantsSecondFactor(permission) ? ' (with second factor)' : ''}`,
        ...ROLE_NAMES.map((role) => ((ROLES[role].may as readonly Permission[]).includes(permission) ? 'yes' : '')),
      ]),
    ),
    '',
    'A token of a service account is good for what its scopes say, and reaches no code:',
    '',
    ...SCOPE_NAMES.map((scope) => `* \`${scope}\`: ${SCOPES[scope]}`),
    '',
  ].join('\n')
}
