package words
import ("testing";"go/parser";"go/token";"go/ast";"strconv";"os";"path/filepath";"strings";"fmt")
func TestScan(t *testing.T){
 for _,dir:=range strings.Fields(os.Getenv("DIRS")){
  files,_:=filepath.Glob("/tmp/w/words/"+dir+"/*.go")
  for _,f:=range files{
   if strings.HasSuffix(f,"_test.go"){continue}
   fs:=token.NewFileSet(); a,_:=parser.ParseFile(fs,f,nil,0)
   ast.Inspect(a,func(n ast.Node)bool{
    if _,ok:=n.(*ast.ImportSpec);ok{return false}
    if fl,ok:=n.(*ast.Field);ok&&fl.Tag!=nil{return false}
    l,ok:=n.(*ast.BasicLit); if !ok||l.Kind!=token.STRING{return true}
    s,_:=strconv.Unquote(l.Value)
    for _,x:=range Check(s){fmt.Printf("%s:%d %s\n",strings.TrimPrefix(f,"/tmp/w/words/"),fs.Position(l.Pos()).Line,x)}
    return true})
  }
 }
}
