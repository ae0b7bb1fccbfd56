package picture
import ("testing";"os";"math/rand";"math";"fmt"
"github.com/stretchr/testify/require"
"shimwright/sim/mesh";"shimwright/sim/family";"shimwright/sim/gauge")
func TestReal(t *testing.T){
 fam:=family.Beech(); m:=fam.Model
 set,err:=mesh.NewSet(m.Gears,m.EaseOff,m.EaseOff,fam.Sheet.Backlash.Mid()); require.NoError(t,err)
 c:=set.NewContact(); r:=rand.New(rand.NewSource(1))
 for _,k:=range []struct{n string;p mesh.Position;film float64}{{"ok",mesh.Position{},.009},{"shallow",mesh.Position{PinionOutMM:.1},.009},{"deep",mesh.Position{PinionOutMM:-.1},.009},{"away",mesh.Position{RingAwayMM:.12},.009},{"thick",mesh.Position{},.02},{"out.05",mesh.Position{PinionOutMM:.05},.009},{"out.2",mesh.Position{PinionOutMM:.2},.009},{"away.25",mesh.Position{RingAwayMM:.25},.009},{"free",mesh.Position{},.009*.45},{"angle",mesh.Position{ShaftAngleRad:.002},.009}}{
  require.NoError(t,c.Move(k.p))
  var ps []gauge.ToothPrint
  for _,fl:=range []mesh.Flank{mesh.Drive,mesh.Coast}{
   pat:=c.Pattern(fl,k.film); sep:=c.Separation(fl,48,16,nil)
   p:=gauge.ToothPrint{Flank:fl.String(),Cols:48,Rows:16,Ink:make([]float64,len(sep)),CentreS:pat.CentreS,CentreT:pat.CentreT,LengthPart:pat.MaxS-pat.MinS,HeightPart:pat.MaxT-pat.MinT,AreaPart:pat.AreaShare}
   for i,d:=range sep{ p.Ink[i]=math.Max(0,math.Min(1,(k.film-d)/(k.film/3)+.06*r.NormFloat64()))}
   fmt.Printf("%s S %.3f T %.3f len %.2f ht %.2f %s\n",k.n,p.CentreS,p.CentreT,p.LengthPart,p.HeightPart,Words(p))
   ps=append(ps,p)
  }
  f,_:=os.Create("/tmp/look/real-"+k.n+".png"); require.NoError(t,PNG(f,ps,Options{Colour:true,Title:k.n})); f.Close()
  os.WriteFile("/tmp/look/real-"+k.n+".txt",[]byte(Terminal(ps,Options{Columns:80,Colour:true,Title:k.n})),0o644)
  os.WriteFile("/tmp/look/real-"+k.n+"-plain.txt",[]byte(Plain(ps,Options{Columns:80,Title:k.n})),0o644)
 }
}
