"""A label before the reader of the app, drawn in the page instead of filmed."""

from companion.paper import qr

#: Pixels of a module; a label at reading distance has about as many.
MODULE_PX = 6
#: Runs in a page of the bench: the very worker that reads the camera's frames reads one picture.
READ = """async ([modules, blocks, px]) => {
  const { SCAN_WORKER, scriptAddress } = await import('/static/bench/script-addresses.js');
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = modules * px;
  const context = canvas.getContext('2d');
  context.fillStyle = 'white';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.fillStyle = 'black';
  for (const [x, y, wide, high] of blocks) context.fillRect(x * px, y * px, wide * px, high * px);
  const frame = context.getImageData(0, 0, canvas.width, canvas.height);
  const reader = new Worker(scriptAddress(SCAN_WORKER), { type: 'module' });
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error('the reader did not answer')), 10000);
    reader.onerror = (event) => reject(new Error(event.message || 'the reader did not start'));
    reader.onmessage = ({ data }) => { reader.terminate(); resolve(data.failed ?? data.texts); };
    reader.postMessage(frame);
  });
}"""


def drawn(text: str) -> list[object]:
    """What ``READ`` is given for one pattern."""
    pattern = qr.pattern(text)
    blocks = [[one.column, one.row, one.columns, one.rows] for one in pattern.blocks]
    return [pattern.modules, blocks, MODULE_PX]
