# Completion of tundish for bash. For every shell to come:
#   tundish completion bash > ~/.local/share/bash-completion/completions/tundish
_tundish() {
	local words=() last=-1 glue= i word line value
	for ((i = 1; i <= COMP_CWORD; i++)); do # bash takes --flag=value apart
		word=${COMP_WORDS[i]}
		if [[ $word == "=" && $last -ge 0 && ${words[last]} == --* ]]; then
			words[last]+="=" glue=1
		elif [[ $glue ]]; then
			words[last]+=$word glue=
		else
			last=$((last + 1)) words[last]=$word
		fi
	done
	local current=${words[last]} joined=
	[[ $current == --*=* && $COMP_WORDBREAKS == *=* ]] && joined="${current%%=*}="
	COMPREPLY=()
	while IFS= read -r line; do
		if [[ $line == :files ]]; then
			compopt -o filenames 2>/dev/null
			while IFS= read -r value; do
				COMPREPLY+=("$value")
			done < <(compgen -f -- "${current#"$joined"}")
			continue
		fi
		value=${line%%$'\t'*}
		COMPREPLY+=("$(printf '%q' "${value#"$joined"}")")
	done < <("${COMP_WORDS[0]}" __complete -- "${words[@]}" 2>/dev/null)
}
complete -F _tundish tundish
