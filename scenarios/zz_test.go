package scenarios_test
import ("testing";"fmt";"shimwright/scenarios";"shimwright/scenarios/hand";"shimwright/scenarios/verdict";"shimwright/sim/truth";"shimwright/sim/quantity")
func TestZZ(t *testing.T){
 for seed:=uint64(1);seed<=10;seed++{
  j,err:=scenarios.Generate(seed)
  fmt.Println(seed,j.Draws(),err)
  if err!=nil {continue}
  st,_:=j.Stand()
  err=hand.Work(st,j.Card.Known,hand.Competent())
  s:=st.Status()
  x,_:=truth.Open(st.Sealed())
  fmt.Println("  ",err,s.Minutes,s.PartsMinutes,s.Acts,x.Faults,verdict.Met(verdict.Check(j.Card.Family,j.Card.UsedBearings,st.Sealed())))
  for _,i:=range verdict.Check(j.Card.Family,j.Card.UsedBearings,st.Sealed()){ v,w:=i.Text(quantity.Inch); fmt.Println("     ",i.Name,v,w,i.Met) }
 }
}
