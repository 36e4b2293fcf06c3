package main

import (
	"fmt"
	"strings"

	"github.com/alecthomas/kong"
)

type completeCmd struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (completeCmd) Help() string {
	return `Examples:
  source <(tunwright completion bash)
  tunwright completion zsh > ~/.zfunc/_tunwright
  tunwright completion fish > ~/.config/fish/completions/tunwright.fish`
}

// Run prints the script. It is made from the command model, so that it cannot
// fall behind the commands.
func (c completeCmd) Run(con *console) error {
	words := map[string][]string{}
	var order []string
	visit(con.model.Node, "", func(path string, next []string) {
		words[path] = next
		order = append(order, path)
	})
	switch c.Shell {
	case "fish":
		for _, path := range order {
			for _, w := range words[path] {
				fmt.Fprintf(con.out, "complete -c tunwright -n '%s' -f -a '%s'\n", fishCondition(path), w)
			}
		}
		return nil
	case "zsh":
		fmt.Fprintln(con.out, "#compdef tunwright\nautoload -U +X bashcompinit && bashcompinit")
	}
	fmt.Fprintln(con.out, "_tunwright() {\n  local path=\"${COMP_WORDS[*]:1:COMP_CWORD-1}\" cur=\"${COMP_WORDS[COMP_CWORD]}\" words=\"\"\n  case \"$path\" in")
	for _, path := range order {
		fmt.Fprintf(con.out, "    %q) words=%q ;;\n", path, strings.Join(words[path], " "))
	}
	fmt.Fprintln(con.out, "  esac\n  COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n  [ ${#COMPREPLY[@]} -eq 0 ] && COMPREPLY=($(compgen -f -- \"$cur\"))\n}\ncomplete -F _tunwright tunwright")
	return nil
}

// visit walks the commands and gives, for each, the words that may come next.
func visit(n *kong.Node, path string, each func(string, []string)) {
	var next []string
	for _, child := range n.Children {
		if !child.Hidden {
			next = append(next, child.Name)
		}
	}
	for _, flag := range n.Flags {
		if !flag.Hidden {
			next = append(next, "--"+flag.Name)
		}
	}
	each(path, next)
	for _, child := range n.Children {
		visit(child, strings.TrimSpace(path+" "+child.Name), each)
	}
}

func fishCondition(path string) string {
	if path == "" {
		return "__fish_use_subcommand"
	}
	parts := strings.Fields(path)
	return "__fish_seen_subcommand_from " + parts[len(parts)-1]
}
