// What the theme leaves without a name or out of reach of the keyboard.
const name = (where, label) => document.querySelectorAll(where).forEach((one, at, all) => {
  one.setAttribute('aria-label', all.length > 1 ? `${label} ${at + 1}` : label)
})
name('.md-search', 'Search')
name('.md-code__nav', 'Copy the code')
document.querySelectorAll('.md-typeset__scrollwrap').forEach((one) => { one.tabIndex = 0 })
