autocmd BufRead,BufNewFile *.scant setfiletype scantling
