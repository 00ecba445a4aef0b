" The colours of scantling. Words are coloured where they stand for what they say: a kind at the head of an entry, a property
" before its `=`, a choice word in a value.
if exists('b:current_syntax')
  finish
endif

syntax iskeyword @,48-57,_

" ---- words, each list used only where it fits
" words: kinds
syntax keyword scantlingKind contained adjustable back bay blocking board borer carcass caulk ceiling
syntax keyword scantlingKind contained ceiling_panel clamp cleat coating contents corner counter crown door
syntax keyword scantlingKind contained doors drawers edge end facing filler finish fits floor follow glue
syntax keyword scantlingKind contained hinge hole item join lot module moulding nail obstacle offcut opening
syntax keyword scantlingKind contained person pin plinth project pull rates reading room route router run saw
syntax keyword scantlingKind contained screw scribe sheet shelf slide slope sold space stair stick stretcher
syntax keyword scantlingKind contained studs tape thing toe top unit vehicle wall
" end of words
" words: properties
syntax keyword scantlingProperty contained above against along at back base bead bearing before behind below
syntax keyword scantlingProperty contained between bit board bottles bottom bottom_rail box build cans carries
syntax keyword scantlingProperty contained cartridge casing caulk caulking ceiling clear coat coats count
syntax keyword scantlingProperty contained covering cup cut cuts dated day_begins day_ends decided density
syntax keyword scantlingProperty contained depth diameter divider easing edge ends entry every exit facing
syntax keyword scantlingProperty contained fall fence filler filling first fit fixing foot front full_load gap
syntax keyword scantlingProperty contained gauge glue going grain grommet groove guide hangs headroom height
syntax keyword scantlingProperty contained hinge hole_depth humidity hung in_clamps item joint joists kerf
syntax keyword scantlingProperty contained kind landing lap later leaf lean left left_back length lengths
syntax keyword scantlingProperty contained level light_load lining load loaded loss lot made_for margin marks
syntax keyword scantlingProperty contained moisture nail nominal off on on_hand onward open opens out over
syntax keyword scantlingProperty contained overlay packed paper pin pitch play plug price prices projection
syntax keyword scantlingProperty contained pull reach rear recessed reveal revision ribs right right_back rise
syntax keyword scantlingProperty contained roll sag sanding sanding_between screw set_back set_in shelves side
syntax keyword scantlingProperty contained size skim skip slack slide spacing span spare spares spoilt spread
syntax keyword scantlingProperty contained spring stages stand_on standing start step stiffness stile stock
syntax keyword scantlingProperty contained stood_up_under strip swell swing thickness through tolerance
syntax keyword scantlingProperty contained top_rail turn twist wait waste width without work year_built
" end of words
" words: statements
syntax keyword scantlingStatement contained accept as because each join let measured param require use with
" end of words
" words: choices
syntax match scantlingChoice /\.\@1<!\<\%(floor_register\|cased_opening\|return_grille\|wall_register\|bring_flush\|right_angle\|smoke_alarm\|chair_rail\|thermostat\|baseboard\|cut_round\|stretcher\|finished\|opposite\|straight\|subfloor\|to_floor\|bedroom\|child_3\|child_5\|child_9\|counter\|drawers\|masonry\|overlay\|quarter\|across\|bottom\|casing\|follow\|heater\|joists\|length\|letter\|middle\|outlet\|plinth\|remove\|shared\|strict\|switch\|window\|above\|adult\|along\|below\|books\|cleat\|crown\|doors\|front\|inset\|light\|other\|plumb\|right\|studs\|usual\|whole\|back\|data\|door\|edge\|flat\|half\|high\|hole\|keep\|left\|near\|none\|open\|pipe\|rear\|room\|sill\|slab\|trim\|wall\|far\|low\|out\|toe\|top\|a4\|in\)\>\%(\s*[.(\[=]\)\@!/
" end of words
" words: constants
syntax keyword scantlingConstant false rest true
" end of words
" words: conditionals
syntax keyword scantlingConditional else if then
" end of words
" words: operators
syntax keyword scantlingOperator and not of or to x
" end of words
" words: units
syntax match scantlingUnit contained /\%(bdft\|days\|floz\|pint\|GPa\|MPa\|day\|deg\|ft2\|ft3\|gal\|in2\|in3\|min\|mm2\|psf\|psi\|cm\|ft\|in\|kN\|kg\|lb\|m2\|m3\|ml\|mm\|pt\|qt\|%\|L\|N\|g\|h\|m\|s\|\u\{3}\)\%(\/\%(bdft\|days\|floz\|pint\|GPa\|MPa\|day\|deg\|ft2\|ft3\|gal\|in2\|in3\|min\|mm2\|psf\|psi\|cm\|ft\|in\|kN\|kg\|lb\|m2\|m3\|ml\|mm\|pt\|qt\|%\|L\|N\|g\|h\|m\|s\)\)\=\%(\w\|\/\)\@!/
" end of words

" ---- the value of a property, and what stands in ( ) and [ ]
syntax cluster scantlingValue contains=scantlingConstant,scantlingConditional,scantlingOperator,scantlingChoice,
      \scantlingNumber,scantlingLength,scantlingDate,scantlingHyphenated,scantlingUnread,scantlingText,scantlingSign,
      \scantlingFunction,scantlingStep,scantlingList,scantlingGroup,@scantlingComments

syntax match scantlingSign /[-+*<>=!/]/
syntax match scantlingUnread /?/
syntax match scantlingFunction /\<\h\w*\ze\s*(/
syntax match scantlingStep /\.\h\w*/
syntax region scantlingList matchgroup=Delimiter start=/\[/ end=/\]/ contains=@scantlingValue fold transparent
syntax region scantlingGroup matchgroup=Delimiter start=/(/ end=/)/ contains=@scantlingValue transparent

" ---- entries: a property, or a kind with its name
syntax match scantlingOwnProperty /\.\@1<!\<\h\w*\ze\s*==\@!/ contains=scantlingProperty
syntax match scantlingBegin /\%(^\|[{,]\)\@1<=\s*\zs\h\w*\ze\s\+\h/ contains=scantlingStatement
syntax match scantlingBegin /\<\%(because\|with\|as\)\>\ze\s*\%(["“]\|\h\)/ contains=scantlingStatement
syntax match scantlingHead /\%(^\|[{,]\)\@1<=\s*\zs\h\w*\ze\%(\s\+\h\w*\)\=\s*\%(["“{},]\|\/\/\|$\)/ contains=scantlingKind,scantlingStatement nextgroup=scantlingName skipwhite
syntax match scantlingName contained /\h\w*/
syntax match scantlingLet /\%(^\|[{,]\)\@1<=\s*\zs\%(let\|param\)\s\+\h\w*/ contains=scantlingStatement
syntax match scantlingModule /\%(^\|[{,]\)\@1<=\s*\zs\%(module\|use\)\s\+\h[a-z0-9_.]*/ contains=scantlingStatement,scantlingKind
syntax match scantlingEach /\%(^\|[{,]\)\@1<=\s*\zseach\s\+\h\w*/ contains=scantlingStatement,scantlingKind
syntax match scantlingSlug /\%(^\|[{,]\)\@1<=\s*\zsaccept\s\+\h\w*/ contains=scantlingStatement
syntax match scantlingJoint /\<with\s\+\h\w*/ contains=scantlingStatement
syntax region scantlingBlock start=/{/ end=/}/ contains=TOP fold transparent

" ---- numbers
syntax match scantlingOperator /["”″'’′]\@1<=x\ze\d/
syntax match scantlingNumber /\%(\<\|\%(["”″'’′]x\)\@<=\)\%(\d\+\s\+\)\=\d\+\/\d\+\|\<\d\+\%(\.\d\+\)\=\%([eE][-+]\=\d\+\)\=/ nextgroup=scantlingUnit skipwhite
syntax match scantlingLength /\%(\<\|\%(["”″'’′]x\)\@<=\)\%(\%(\d\+\s\+\)\=\d\+\/\d\+\|\d\+\%(\.\d\+\)\=\)\%(["”″]\|['’′]\%(\s*\%(\%(\d\+\s\+\)\=\d\+\/\d\+\|\d\+\%(\.\d\+\)\=\)["”″]\)\=\)/
syntax match scantlingHyphenated /\<\d\+-\d\+\/\d\+["”″]\=/
syntax match scantlingDate /\<\d\{4}-\d\d-\d\d\%(\s\+\d\d:\d\d\)\=\>/

" ---- texts and comments
syntax region scantlingText start=/"/ skip=/\\["\\]/ end=/"/ oneline contains=scantlingEscape
syntax region scantlingText start=/[“”]/ end=/”/ oneline
syntax match scantlingEscape contained /\\["\\]/
syntax cluster scantlingComments contains=scantlingComment,scantlingDocComment
syntax match scantlingComment /\/\/.*$/ contains=@Spell
syntax match scantlingDocComment /\/\/\/\/\@!.*$/ contains=@Spell
syntax match scantlingDocComment /\/\/!.*$/ contains=@Spell

highlight default link scantlingKind Type
highlight default link scantlingHead Structure
highlight default link scantlingName Identifier
highlight default link scantlingProperty Label
highlight default link scantlingOwnProperty Identifier
highlight default link scantlingStatement Statement
highlight default link scantlingLet Identifier
highlight default link scantlingModule Structure
highlight default link scantlingEach Structure
highlight default link scantlingSlug Constant
highlight default link scantlingJoint Constant
highlight default link scantlingChoice Constant
highlight default link scantlingConstant Boolean
highlight default link scantlingUnread Todo
highlight default link scantlingConditional Conditional
highlight default link scantlingOperator Operator
highlight default link scantlingSign Operator
highlight default link scantlingFunction Function
highlight default link scantlingNumber Number
highlight default link scantlingLength Number
highlight default link scantlingDate Number
highlight default link scantlingUnit Special
highlight default link scantlingHyphenated Error
highlight default link scantlingText String
highlight default link scantlingEscape SpecialChar
highlight default link scantlingComment Comment
highlight default link scantlingDocComment SpecialComment

let b:current_syntax = 'scantling'
