// Command hello is built by the tests of Build.
package main

import "fmt"

func main() { fmt.Println("hello from a built program") }
