/**
 * Build an element. Text goes in as text, never as markup.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Record<string, string | boolean | ((event: Event) => void)>} [attributes]
 *   `on...` take functions; true sets an empty attribute, false leaves it out
 * @param {...(Node | string | null | false)} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function el(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  dress(element, attributes);
  element.append(...children.filter((child) => child !== null && child !== false));
  return element;
}

/**
 * Build an SVG element.
 * @param {string} tag
 * @param {Record<string, string | number>} [attributes]
 * @param {...(Node | string)} children
 * @returns {SVGElement}
 */
export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.append(...children);
  return element;
}

/**
 * @param {Element} element
 * @param {Record<string, string | boolean | ((event: Event) => void)>} attributes
 */
function dress(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false) element.setAttribute(name, value);
  }
}

/**
 * A button that cannot be pressed twice while its work is under way.
 * @param {string} name  class name
 * @param {string} text
 * @param {() => unknown} act
 * @param {Record<string, string>} [attributes]
 */
export function button(name, text, act, attributes = {}) {
  const element = el('button', { class: name, type: 'button', ...attributes }, text);
  element.addEventListener('click', async () => {
    if (element.disabled) return;
    element.disabled = true;
    try {
      await act();
    } finally {
      element.disabled = false;
    }
  });
  return element;
}
