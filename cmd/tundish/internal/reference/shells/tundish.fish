# Completion of tundish for fish. For every shell to come:
#   tundish completion fish > ~/.config/fish/completions/tundish.fish
function __tundish_complete
    set -l words (commandline -opc)
    set -l current (commandline -ct)
    for line in ($words[1] __complete -- $words[2..-1] "$current" 2>/dev/null)
        if test "$line" = :files
            __fish_complete_path "$current"
        else
            printf '%s\n' $line
        end
    end
end
complete -c tundish -f -k -a '(__tundish_complete)'
