#compdef tundish
# Completion of tundish for zsh. For every shell to come, in a folder of $fpath:
#   tundish completion zsh > ~/.zfunc/_tundish
_tundish() {
	local -a found
	local line value files
	for line in "${(@f)$("${(Q)words[1]}" __complete -- "${(@Q)words[2,CURRENT]}" 2>/dev/null)}"; do
		[[ -z $line ]] && continue
		if [[ $line == :files ]]; then
			files=1
			continue
		fi
		value=${line%%$'\t'*}
		found+=("${value//:/\\:}:${line#*$'\t'}")
	done
	(( $#found )) && _describe -V 'tundish' found
	[[ -n $files ]] && _files
}
if [[ $funcstack[1] == _tundish ]]; then
	_tundish "$@"
else
	compdef _tundish tundish
fi
