/*
 * Runs calls against the modules of the bench and reports each outcome as plain JSON. One text for
 * every place it runs in: evaluated as an expression, given where the modules lie and the calls.
 */
async ({ base, files, calls }) => {
  const modules = {};
  for (const [name, paths] of Object.entries(files)) {
    const loaded = await Promise.all(paths.map((path) => import(base + path)));
    modules[name] = Object.assign({}, ...loaded);
  }
  const { makeRow } = await import(`${base}rows.js`);
  const camel = (name) => name.replace(/_([a-z0-9])/g, (_, letter) => letter.toUpperCase());

  const resolve = (value, module) => {
    if (Array.isArray(value)) return value.map((item) => resolve(item, module));
    if (value === null || typeof value !== "object") return value;
    if ("$call" in value) return run({ module, ...value.$call });
    if ("$rows" in value) return value.$rows.map((row) => makeRow(row));
    return value;
  };

  const run = (call) => {
    const found = modules[call.module][camel(call.call)];
    const args = call.args.map((arg) => resolve(arg, call.module));
    // Options follow every positional argument, also those left to their defaults.
    const result = call.options ? found(...args, call.options) : found(...args);
    return "$get" in call ? result[call.$get] : result;
  };

  const outcome = (call) => {
    try {
      return { value: run(call) ?? null };
    } catch (error) {
      return { raises: error.name, field: error.field ?? error.message };
    }
  };
  return JSON.stringify(calls.map(outcome));
}
