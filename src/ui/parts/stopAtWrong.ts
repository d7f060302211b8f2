/**
 * Puts the focus on the first line of a form whose text is wrong. Such text is shown and not taken: sending the form off
 * would lose it without a word. False where all is good.
 */
export function stopAtWrong(form: HTMLElement): boolean {
  const wrong = form.querySelector<HTMLElement>('[aria-invalid="true"]');
  wrong?.focus();
  return wrong !== null;
}
