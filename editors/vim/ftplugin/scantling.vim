" Settings for scantling.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal commentstring=//\ %s
setlocal comments=:///,://!,://
setlocal formatoptions-=t formatoptions+=croql
setlocal expandtab shiftwidth=2 softtabstop=2 textwidth=100
setlocal suffixesadd=.scant
setlocal include=^\\s*use\\s*\"
setlocal cindent cinoptions=L0,J1,(s,m1,+0 cinkeys=0{,0},0),0],!^F,o,O
setlocal foldmethod=syntax foldlevel=99
" `gg=G` indents; `:%!scantling fmt -` and `gqG` bring the whole file into its canonical form.
setlocal formatprg=scantling\ fmt\ -
compiler scantling

let b:undo_ftplugin = 'setlocal commentstring< comments< formatoptions< expandtab< shiftwidth< softtabstop<'
      \ . ' textwidth< suffixesadd< include< cindent< cinoptions< cinkeys< foldmethod< foldlevel< formatprg<'
      \ . ' makeprg< errorformat<'
