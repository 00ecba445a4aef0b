" `:make` checks the file and lists its messages.
if exists('current_compiler')
  finish
endif
let current_compiler = 'scantling'

CompilerSet makeprg=scantling\ check\ --message-format\ short\ %:S
CompilerSet errorformat=%f:%l:%c:\ %trror%m,%f:%l:%c:\ %tarning%m,%f:%l:%c:\ %tote%m,%-G%.%#
