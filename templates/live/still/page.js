// What makes the page live beside htmx: where the focus stays, files that are dropped, a tab that is closed.
'use strict';
(() => {
  const body = document.body
  document.documentElement.classList.add('live')
  const base = body.dataset.base

  // Focus stays on the field that was changed when its form is replaced, and where it went meanwhile if somebody was quicker.
  let held = null
  body.addEventListener('htmx:beforeSwap', () => {
    const at = document.activeElement
    held = at && at.id ? { id: at.id, start: at.selectionStart, end: at.selectionEnd } : null
  })
  body.addEventListener('htmx:afterSettle', () => {
    if (!held) return
    const at = document.getElementById(held.id)
    if (at && (!document.activeElement || document.activeElement === body)) {
      at.focus({ preventScroll: true })
      try { at.setSelectionRange(held.start, held.end) } catch { /* not every input has a selection */ }
    }
    held = null
  })

  // What was typed into a field while its answer was on the way is kept, and sent after it.
  const typed = (form) => new URLSearchParams([...new FormData(form)].filter(([name]) => !name.startsWith('was'))).toString()
  const sent = new WeakMap()
  body.addEventListener('htmx:beforeSend', (event) => {
    if (event.detail.elt.matches('form.field')) sent.set(event.detail.elt, typed(event.detail.elt))
  })
  body.addEventListener('htmx:beforeSwap', (event) => {
    const form = event.detail.requestConfig.elt
    if (!sent.has(form) || event.detail.xhr.status !== 200 || sent.get(form) === typed(form)) return
    const now = new DOMParser().parseFromString(event.detail.xhr.responseText, 'text/html').getElementById(form.id)
    if (!now) return
    event.detail.shouldSwap = false
    for (const name of ['was', 'was_way']) form.elements[name].value = now.elements[name].value
    setTimeout(() => form.requestSubmit(), 0)
  })
  // A field that somebody is typing in is not replaced because another one was changed.
  body.addEventListener('htmx:oobBeforeSwap', (event) => {
    const at = event.detail.target
    if (at.matches('form.field') && at.contains(document.activeElement) && changed(at)) event.detail.shouldSwap = false
  })
  const changed = (form) => [...form.elements].some((one) => (one.type === 'text' && one.value !== one.defaultValue) || (/radio|checkbox/.test(one.type) && one.checked !== one.defaultChecked))

  // The paths that are shown over the picture stay while other parts are chosen.
  const ways = () => document.querySelectorAll('.paths input').forEach((box) => { box.checked = sessionStorage.getItem(box.id) === 'on' })
  body.addEventListener('change', (event) => {
    if (event.target.matches('.paths input')) sessionStorage.setItem(event.target.id, event.target.checked ? 'on' : '')
  })
  body.addEventListener('htmx:afterSettle', ways)
  ways()

  let shown = location.pathname + location.search

  // A part that is chosen opens its fields beside the picture, which stays where it is.
  body.addEventListener('click', (event) => {
    const link = event.target.closest && event.target.closest('.wall a[data-part], .wall .parts a')
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return
    const url = link.getAttribute('href')
    event.preventDefault()
    window.htmx.ajax('GET', url, { target: '#main', select: '#main', swap: 'outerHTML' }).then(() => {
      history.pushState(null, '', url)
      shown = location.pathname + location.search
      const fields = document.getElementById('fields')
      if (fields) fields.focus({ preventScroll: matchMedia('(min-width: 80rem)').matches })
    })
  })
  window.addEventListener('popstate', () => { if (shown !== location.pathname + location.search) location.reload() }) // not at a link within the view

  // A request that was not answered is told where a screen reader hears it.
  const say = (words) => {
    const at = document.getElementById('says')
    if (!at) return
    at.replaceChildren(Object.assign(document.createElement('p'), { textContent: words }))
  }
  body.addEventListener('htmx:sendError', () => say('The page does not answer any more. Start it again with specgen page; nothing that was set is lost.'))
  body.addEventListener('htmx:responseError', (event) => say(event.detail.xhr.responseText.startsWith('<') ? 'That was refused.' : event.detail.xhr.responseText))

  // Files dropped on a drop field stand in its file input; the form is then sent as if they had been chosen.
  for (const type of ['dragover', 'drop']) {
    body.addEventListener(type, (event) => {
      const zone = event.target.closest && event.target.closest('[data-drop]')
      event.preventDefault()
      if (!zone || type === 'dragover') return
      const input = zone.querySelector('input[type=file]')
      input.files = event.dataTransfer.files
      input.form.requestSubmit()
    })
  }

  // Ctrl+Z and Ctrl+Y outside a text field go a step back and forth.
  body.addEventListener('keydown', (event) => {
    const at = event.target
    if (!(event.ctrlKey || event.metaKey) || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName)) return
    const way = event.key === 'z' && !event.shiftKey ? 'undo' : event.key === 'y' || event.key === 'Z' || event.key === 'z' ? 'redo' : ''
    const form = way && document.querySelector(`#steps form[action$="/${way}"]`)
    if (form && !form.querySelector('button').disabled) { event.preventDefault(); form.requestSubmit() }
  })

  if ('endWithTab' in body.dataset) {
    window.addEventListener('pagehide', () => navigator.sendBeacon(base + 'leaving'))
  }
})()
