/** Imports run one way: engine <- papers, register <- server, cli; web takes engine, drawings and the server's client. */
const only = (name, from, allowed) => ({
  name,
  severity: 'error',
  comment: `${from} may import only itself and ${allowed.join(', ') || 'libraries'}`,
  from: { path: `^${from}/src` },
  to: {
    path: '^(engine|papers|register|server|web|cli|demo|checks)/',
    pathNot: [`^${from}/`, ...allowed.map((a) => `^${a}`)],
  },
})

const rooms = ['codes', 'mechanism', 'body', 'shackle', 'heat', 'finish', 'bench', 'proving', 'shop']
const isTest = '\\.(test|testing)\\.tsx?$'

module.exports = {
  forbidden: [
    {
      name: 'no-circular',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    only('engine-imports-nothing-outward', 'engine', []),
    only('papers-over-engine', 'papers', ['engine/']),
    only('register-over-engine', 'register', ['engine/']),
    only('server-over-papers-and-register', 'server', ['engine/', 'papers/', 'register/', 'demo/']),
    only('web-never-reaches-the-register', 'web', [
      'engine/',
      'papers/(src|dist)/(drawing|mesh)/',
      'server/(src|dist)/client',
    ]),
    only('cli-is-last', 'cli', ['engine/', 'papers/', 'register/', 'server/', 'demo/']),
    {
      name: 'engine-is-pure',
      severity: 'error',
      comment: 'no input, output, clock or machine in the engine',
      from: { path: '^engine/src', pathNot: isTest },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'drawings-and-meshes-run-in-a-browser',
      severity: 'error',
      from: { path: '^papers/src/(drawing|mesh)/', pathNot: isTest },
      to: { dependencyTypes: ['core'] },
    },
    ...rooms.map((room) => ({
      name: `room-${room}-keeps-to-itself`,
      severity: 'error',
      comment: 'rooms meet only in works; they share materials, numeric and the kernel',
      from: { path: `^engine/src/${room}/` },
      to: { path: `^engine/src/(${rooms.filter((other) => other !== room).join('|')}|works)/` },
    })),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: `(^|/)(dist|node_modules)/|${isTest}` },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.cruise.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['source', 'import', 'types', 'default'] },
  },
}
