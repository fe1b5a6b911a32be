# Completion for bash: commands, options, references and tags, cues. The program itself is asked, so that nothing here grows old.
# Installed as share/bash-completion/completions/tenterbook; by hand: . tenterbook.bash

_tenterbook_cues() { "$1" help cues 2>/dev/null | sed -n 's/^  \([a-z_0-9]*:[^ ]*\) .*/\1/p'; }
# Without those of tests without a flame, which a burn refuses.
_tenterbook_flame_cues() { "$1" help cues 2>/dev/null | awk '/^[a-z_0-9]*: /{test = /\(a test without a flame\)$/} /^  [a-z_0-9]*:/ && !test {print $1}'; }
_tenterbook_channels() { "$1" help cues 2>/dev/null | sed -n 's/^\([a-z_0-9]*\): .*/\1/p'; }
_tenterbook_options() { "$1" "$2" --help 2>/dev/null | sed -n 's/^  \(--[a-z0-9-]*\).*/\1/p'; }
_tenterbook_lots() { "$@" lots 2>/dev/null | sed -n 's/^\([^ ]*-[0-9]*\.[0-9]*\) .*/\1/p'; }
_tenterbook_tags() { "$@" 2>/dev/null | sed -n 's/^ *"swatch": "\(.*\)",\{0,1\}$/\1/p' | sort -u; }

_tenterbook_tests() { "$1" help cues 2>/dev/null | sed -n 's/^\([a-z_0-9]*\): .*(a test without a flame)$/\1/p'; }
_tenterbook_markets() { "$1" label --help 2>/dev/null | tr '\n' ' ' | sed 's/.*Markets: \([^.]*\)\..*/\1/' | grep -oE '[a-z][a-z] \(' | tr -d ' ('; }
_tenterbook_standings() { "$1" settle --help 2>/dev/null | sed -n '/^  --as /,/^  --why /p' | sed '/^  --why /d' | sed 's/--[a-z]* *[A-Z]*//; s/(.*//' | grep -oE '[a-z]+,?$|[a-z]+,' | tr -d ,; }
_tenterbook_suppliers() { "$@" lots --json 2>/dev/null | sed -n 's/^ *"supplier": "\(.*\)",\{0,1\}$/\1/p' | sort -u; }
_tenterbook_people() { "$@" todo --json 2>/dev/null | sed -n 's/^ *"by": "\(.*\)",\{0,1\}$/\1/p' | sort -u; }
_tenterbook_bolts() { "$@" --json 2>/dev/null | sed -n 's/^ *"number": "\(.*\)",\{0,1\}$/\1/p' | sort -u; }
_tenterbook_parts() { "$1" cut --help 2>/dev/null | tr '\n' ' ' | sed -n 's/.*--part PART *\([^-]*\)--.*/\1/p' | sed 's/(default)//; s/,/ /g'; }
_tenterbook_settings() { "$@" set 2>/dev/null | sed -n 's/^\([a-z_]*:\{0,1\}\)  *.*/\1/p'; }
_tenterbook_laws() { "$@" terms --offer --json 2>/dev/null | sed -n 's/^ *"key": "\(.*\)",\{0,1\}$/\1/p' | sort -u; }
# What an option is followed by, as help names it: TEXT, FILE ...; nothing: it stands alone.
_tenterbook_value() { "$1" "$2" --help 2>/dev/null | sed -n "s/^  $3 \([A-Z][A-Za-z]*\).*/\1/p"; }
# Bolts that were drawn and not cut.
_tenterbook_drawn() { "$@" todo --json 2>/dev/null | tr '\n' ' ' | grep -oE '"kind": "uncut"[^}]*' | sed 's/.*"what": "\([^"]*\)".*/\1/; s/, /\n/g'; }
_tenterbook_burns() { "$@" --json 2>/dev/null | sed -n 's/^ *"burn": "\(.*\)",\{0,1\}$/\1/p'; }

# As references are compared: without regard to case, and to zeros before a number.
_tenterbook_plain() { printf '%s\n' "$@" | tr a-z A-Z | sed 's/\([-.]\)0*\([0-9]\)/\1\2/g'; }

# The references that begin with what is typed, however it is typed. Bash itself stops where they part: mostly behind a zero.
_tenterbook_refer() {
	local word wanted typed=${1^^}; wanted=$(_tenterbook_plain "$1" | sed 's/\([-.]\)0*$/\1/'); shift
	for word in "$@"; do
		case ${word^^} in "$typed"*) COMPREPLY+=("$word"); continue ;; esac
		case $(_tenterbook_plain "$word") in "$wanted"*) COMPREPLY+=("$word") ;; esac
	done
}

# Lots, and the tags of the one that is typed: what is typed, the program and its book.
_tenterbook_references() {
	local typed=$1; shift
	_tenterbook_refer "$typed" $(_tenterbook_lots "$@")
	case $typed in
	*-*.*) _tenterbook_refer "$typed" $(_tenterbook_tags "$@" look "$(printf '%s' "$typed" | cut -d. -f1,2)" --json) ;;
	esac
}

# Names have spaces: they are offered as they have to be typed.
_tenterbook_name() {
	local typed=$1 name
	while IFS= read -r name; do
		[ -n "$name" ] || continue
		case $(printf %s "$name" | tr A-Z a-z) in "$(printf %s "$typed" | tr A-Z a-z)"*) COMPREPLY+=("$(printf %q "$name")") ;; esac
	done
}

# What is being typed, whole: bash takes it apart at colons and equal signs.
_tenterbook_typed() {
	local line=${COMP_LINE:0:COMP_POINT}
	printf '%s' "${line##* }"
}

# The words that begin with what is typed, less what bash has set apart already.
_tenterbook_offer() {
	local typed=$1 apart word; shift
	apart=${typed%"${COMP_WORDS[COMP_CWORD]}"}
	[ "${COMP_WORDS[COMP_CWORD]}" = : ] && apart=${typed}
	for word in "$@"; do
		case $word in "$typed"*) COMPREPLY+=("${word#"$apart"}") ;; esac
	done
}

_tenterbook() {
	local tb=${COMP_WORDS[0]} typed before= command= i list
	local -a book=()
	typed=$(_tenterbook_typed)
	COMPREPLY=()
	for ((i = 1; i < COMP_CWORD; i++)); do
		case ${COMP_WORDS[i]} in
		--book) book=(--book "${COMP_WORDS[i + 1]}"); ((i++)) ;;
		--as-person) ((i++)) ;;
		-*) ;;
		*) [ -n "$command" ] || command=${COMP_WORDS[i]} ;;
		esac
	done
	list=${COMP_LINE:0:COMP_POINT}; list=${list%"$typed"}
	before=${list% }; before=${before##* }
	if [ -z "$command" ]; then
		_tenterbook_offer "$typed" $("$tb" help 2>/dev/null | sed -n 's/^  \([a-z]*\) .*/\1/p') --book --as-person --help --version
		return
	fi
	case $before in
	--saw | --not | --looked | --could-not)
		local head= cues=_tenterbook_cues
		[ "$command" != burn ] || cues=_tenterbook_flame_cues
		case $typed in *,*) head=${typed%,*}, ;; esac
		case ${typed##*,} in !*) head=$head! ;; esac
		local -a words=()
		local word
		for word in $(case $before in --saw | --not) $cues "$tb" ;; *) _tenterbook_channels "$tb" ;; esac); do words+=("$head$word"); done
		_tenterbook_offer "$typed" "${words[@]}"
		compopt -o nospace 2>/dev/null
		return ;;
	--as | --standing) _tenterbook_offer "$typed" $(_tenterbook_standings "$tb"); return ;;
	--test) _tenterbook_offer "$typed" $(_tenterbook_tests "$tb"); return ;;
	--market) _tenterbook_offer "$typed" $(_tenterbook_markets "$tb"); return ;;
	--same-as | --supplier) _tenterbook_name "$typed" < <(_tenterbook_suppliers "$tb" "${book[@]}"); return ;;
	--by) _tenterbook_name "$typed" < <(_tenterbook_people "$tb" "${book[@]}"); return ;;
	--part) _tenterbook_offer "$typed" $(_tenterbook_parts "$tb"); return ;;
	--law) _tenterbook_offer "$typed" $(_tenterbook_laws "$tb" "${book[@]}"); return ;;
	--to) _tenterbook_references "$typed" "$tb" "${book[@]}"; return ;;
	--lot) _tenterbook_refer "$typed" $(_tenterbook_lots "$tb" "${book[@]}"); return ;;
	--bolt)
		local lot=${list#*"$command" }
		_tenterbook_refer "$typed" $(_tenterbook_bolts "$tb" "${book[@]}" look "${lot%% *}"); return ;;
	--corrects | --like)
		local swatch=${COMP_WORDS[*]}
		swatch=$(printf '%s' "$swatch" | grep -oE '[A-Za-z0-9]+-[0-9]+\.[0-9]+\.[0-9]+' | head -1)
		_tenterbook_offer "$typed" last $([ -z "$swatch" ] || _tenterbook_burns "$tb" "${book[@]}" look "$swatch")
		return ;;
	--?*)
		case $(_tenterbook_value "$tb" "$command" "$before") in
		'') ;;
		FILE | FOLDER | DIR) COMPREPLY=($(compgen -f -- "$typed")); return ;;
		*) compopt +o default 2>/dev/null; return ;; # nobody knows what is meant, and no file is
		esac ;;
	esac
	case $typed in
	-*) _tenterbook_offer "$typed" $(_tenterbook_options "$tb" "$command") --help --json --book --as-person ;;
	*)
		case $command in
		help)
			[ "$before" != cues ] || { _tenterbook_offer "$typed" $(_tenterbook_channels "$tb"); return; }
			_tenterbook_offer "$typed" cues $("$tb" help 2>/dev/null | sed -n 's/^  \([a-z]*\) .*/\1/p') ;;
		set)
			[ "$before" != set ] || _tenterbook_offer "$typed" $(_tenterbook_settings "$tb" "${book[@]}") ;;
		receive | restore | keep) COMPREPLY=($(compgen -f -- "$typed")) ;;
		address | supplier | terms | record) _tenterbook_name "$typed" < <(_tenterbook_suppliers "$tb" "${book[@]}") ;;
		*)
			_tenterbook_references "$typed" "$tb" "${book[@]}"
			[ "$command" != cut ] || _tenterbook_refer "$typed" $(_tenterbook_drawn "$tb" "${book[@]}") ;;
		esac ;;
	esac
}
complete -o default -F _tenterbook tenterbook
