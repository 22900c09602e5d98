//! scratch
use epidemic::{demo, make, oracle};
use plot::*;
fn main() {
    let seed = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(2031);
    let made = make(&demo::recipe(), seed).unwrap();
    println!("trees {} scores {}", made.plot.trees().len(), made.plot.scores().len());
    for truth in &made.truth {
        let mut per = vec![(0,0,0,0);3];
        let t = made.plot.traits_of_disease(&truth.disease);
        for s in 0..3 {
            for (ix, tree) in made.plot.trees_ix() {
                let mut sc=false; let mut inf=false;
                for (_, x) in made.plot.scores_of(ix) { if t.contains(&x.trait_ix) && made.plot.season_of(x).0==2029+s { sc=true; if let Some(Reading::Infected(_))=made.plot.reading(x){inf=true} } }
                let p=&mut per[s as usize];
                if tree.role()==Role::SusceptibleCheck { p.2+=sc as i32; p.3+=inf as i32 } else {p.0+=sc as i32; p.1+=inf as i32}
            }
        }
        let luck = oracle::luck(&made.plot, truth);
        let b = |lo:f64,hi:f64| luck.values().filter(|l| **l>lo && **l<=hi).count();
        println!("{} {:?} clean {} oracle proven {} leaning {} untested {}", truth.disease, per, luck.len(), b(-1.,0.05), b(0.05,0.25), b(0.25,1.0));
        // map
        for row in 1..=20 { let mut line=String::new(); for place in 1..=60 {
            let c = made.plot.trees_ix().filter(|(_,t)| t.row()==Some(row)&&t.place()==Some(place) && t.carrier().is_none()).map(|(ix,t)| {
                if t.status()==Status::Empty {' '} else if made.plot.scores_of(ix).any(|(_,x)| t_has(&t_ids(&made.plot,&truth.disease), x.trait_ix) && matches!(made.plot.reading(x),Some(Reading::Infected(_)))) {'#'} else { luck.get(&ix).map_or('.', |l| if *l<=0.05 {'P'} else if *l<=0.25 {'l'} else {'u'}) } }).next().unwrap_or(' ');
            line.push(c);} println!("{line}"); }
    }
}
fn t_ids(p:&Plot,d:&str)->Vec<TraitIx>{p.traits_of_disease(d)}
fn t_has(v:&[TraitIx],t:TraitIx)->bool{v.contains(&t)}
