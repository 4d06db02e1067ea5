// What the theme leaves without a name of its own or out of reach of the keyboard.
document.querySelector('.md-search')?.setAttribute('aria-label', 'Search')
document.querySelectorAll('nav[aria-labelledby]').forEach((one) => {
  const label = document.getElementById(one.getAttribute('aria-labelledby'))?.textContent.trim()
  one.removeAttribute('aria-labelledby')
  one.setAttribute('aria-label', `Pages of ${label}`)
})
document.querySelectorAll('.md-typeset__scrollwrap').forEach((one) => { one.tabIndex = 0 })
