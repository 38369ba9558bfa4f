//! A worker of the page in one file: has a model of its own and answers one request after another.

/** The model, once it is there. */
let opened = null;

/** Stands in for what a drawing library wants of browsers; the model never calls it. */
function stubs(code) {
  const imports = {};
  for (const { module, name } of WebAssembly.Module.imports(code)) {
    imports[module] ??= {};
    imports[module][name] = () => { throw new Error(`${name} is not here`); };
  }
  return imports;
}

/** Calls the model; returns whether all is well, and the answer as text. */
function call(model, name, query, body) {
  const { memory, room, answer, answer_at, answer_bytes } = model.exports;
  const request = new TextEncoder().encode(`${name}\n${query}\n${body}`);
  const at = room(request.length);
  new Uint8Array(memory.buffer, at, request.length).set(request);
  const isWell = answer() === 1;
  const answered = new Uint8Array(memory.buffer, answer_at(), answer_bytes());
  return [isWell, new TextDecoder().decode(answered)];
}

onmessage = async ({ data: { id, code, shelf, name, query, body } }) => {
  if (code) {
    opened = WebAssembly.instantiate(code, stubs(code)).then((model) => {
      call(model, "open", "", shelf);
      return model;
    });
    return;
  }
  try {
    const [isWell, text] = call(await opened, name, query, body ?? "");
    postMessage({ id, isWell, text });
  } catch (error) {
    postMessage({ id, isWell: false, text: JSON.stringify({ wrong: `this is a bug in the program (${error.message})`, faults: [] }) });
  }
};
