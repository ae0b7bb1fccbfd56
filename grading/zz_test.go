package grading_test
import ("testing";"fmt";"shimwright/scenarios";"shimwright/sim";"shimwright/sim/act";"shimwright/scenarios/hand";"shimwright/grading";"shimwright/sim/quantity")
type rec struct{*sim.Stand; outs []sim.Outcome}
func (r *rec) Do(a act.Act)(sim.Outcome,error){ o,err:=r.Stand.Do(a); if err==nil {r.outs=append(r.outs,o)}; return o,err}
func TestZZ(t *testing.T){
 for seed:=uint64(1);seed<=30;seed++{
  j,err:=scenarios.Generate(seed)
  if err!=nil {fmt.Println(err);continue}
  for k,h:=range []hand.Habits{{},{WrongMoveOnce:true},{SignsTurned:true},{NeverMeasures:true}}{
  st,_:=j.Stand()
  r:=&rec{Stand:st}
  err=hand.Work(r,j.Card.Known,h)
  rep,err2:=grading.Grade(j.Card,r.outs,quantity.Inch)
  fmt.Println(seed,k,err,err2,"SCORE",rep.Score,"lost",rep.Lost,"lesson",rep.Lesson, rep.Areas)
  if k==0&&seed<6 { for _,d:=range rep.Decisions { if d.Lost>3 {fmt.Printf("      %d %s [%s] lost %.1f: %s | %s | best: %s\n",d.Act,d.Did,d.Area,d.Lost,d.Knew,d.Means,d.Best)} } 
   for _,m:=range rep.Rubric { if m.Outcome==grading.NotMet {fmt.Println("      RUBRIC",m.ID,m.Evidence)}}}
  }
 }
}
