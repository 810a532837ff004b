"""Step lines as authors of many kinds write them, each with the feet that move on its beats.

Source: common practice of the trade, told by the feet: R, L, or B where neither foot is meant (claps, swivels, turns in
place). A row is the free foot before it, the counts, the words, and a mark for each movement; holds have none.
"""

from __future__ import annotations

ROWS = """
R | 1-4 | Vine right with a touch | 1R 2L 3R 4L
R | 1-4 | Grapevine right, touch left beside right | 1R 2L 3R 4L
R | 1-4 | Vine R, scuff L | 1R 2L 3R 4L
R | 1-4 | Vine R w/ 1/4 turn R, brush L | 1R 2L 3R 4L
R | 1-4 | Grapevine to right with a quarter turn right and hitch left | 1R 2L 3R 4L
R | 1-4 | Vine right (R, L, R) and touch L | 1R 2L 3R 4L
R | 1-4 | Right vine, touch | 1R 2L 3R 4L
R | 1-4 | R vine with L scuff | 1R 2L 3R 4L
R | 1-4 | Weave right | 1R 2L 3R 4L
R | 1-6 | Weave right | 1R 2L 3R 4L 5R 6L
R | 1-8 | Weave to the right for 8 counts | 1R 2L 3R 4L 5R 6L 7R 8L
L | 1-4 | Weave right | 1L 2R 3L 4R
L | 1-8 | Weave right starting with L over R | 1L 2R 3L 4R 5L 6R 7L 8R
R | 1-4 | Weave left: cross R over L, step L to side, R behind L, L to side | 1R 2L 3R 4L
R | 1-4 | Jazz box | 1R 2L 3R 4L
R | 1-4 | R jazz box with 1/4 turn R | 1R 2L 3R 4L
R | 1-4 | Jazz box R ending with a touch | 1R 2L 3R 4L
R | 1-4 | Jazz box cross | 1R 2L 3R 4L
R | 1-8 | Jazz box toe struts | 1R 2R 3L 4L 5R 6R 7L 8L
R | 1-4 | Cross right over left, step back left, step right to right side, step left next to right | 1R 2L 3R 4L
R | 1-4 | Right foot crosses over left, left foot steps back, right foot steps to the side, left foot closes | 1R 2L 3R 4L
R | 1-4 | Cross R over L, back L, side R, together L | 1R 2L 3R 4L
R | 1-4 | X R over L, bk L, sd R, tog L | 1R 2L 3R 4L
R | 1-4 | RF X LF, LF bk, RF sd, LF tog | 1R 2L 3R 4L
R | 1-4 | Monterey 1/2 turn R | 1R 2R 3L 4L
R | 1-4 | 1/2 Monterey turn right | 1R 2R 3L 4L
R | 1-4 | Quarter monterey right | 1R 2R 3L 4L
R | 1-4 | Point R to R side, 1/2 turn R on ball of L stepping R beside L, point L to L side, step L next to R | 1R 2R 3L 4L
R | 1-2 | Point R to side, on ball of L make 1/2 turn right bringing R next to L | 1R 2R
R | 1-4 | Point right out to right side, turn 1/4 right on left foot and step right beside left, point left to left side, left together | 1R 2R 3L 4L
R | 1-8 | K-step | 1R 2L 3L 4R 5R 6L 7L 8R
R | 1-8 | K step with claps | 1R 2L 3L 4R 5R 6L 7L 8R 8B
R | 1-4 | V-step | 1R 2L 3R 4L
R | 1-4 | V step: R out, L out, R in, L in | 1R 2L 3R 4L
R | 1-4 | Step R fwd to R diagonal, step L fwd to L diagonal, step R back to center, step L beside R | 1R 2L 3R 4L
R | 1-4 | Charleston | 1R 2L 3L 4R
R | 1-4 | Touch R forward, step R back, touch L back, step L forward | 1R 2R 3L 4L
R | 1-4 | Charleston: step R fwd, kick L fwd, step L back, touch R toe back | 1R 2L 3L 4R
R | 1-8 | Rumba box | 1R 2L 3R 4L 5L 6R 7L 8R
R | 1-8 | R rumba box forward | 1R 2L 3R 4L 5L 6R 7L 8R
R | 1-4 | Rumba box right forward: side, together, forward, hold | 1R 2L 3R
R | 1&2 | Rumba box fwd: R side, L tog, R fwd | 1R &L 2R
R | 1-4 | Half rumba box forward | 1R 2L 3R 4L
R | 1&2,3-4 | Lindy right | 1R &L 2R 3L 4R
R | 1&2,3-4 | Lindy R | 1R &L 2R 3L 4R
R | 1-2& | Dorothy step R | 1R 2L &R
R | 1-2& | Wizard R | 1R 2L &R
R | 1-2& | Step R fwd to diagonal, lock L behind R, step R fwd | 1R 2L &R
R | 1-2 | R heel grind 1/4 R | 1R 2L
R | 1-2 | Grind R heel, recover L | 1R 2L
R | 1-2 | Cross R heel over L grinding heel, step L to side | 1R 2L
R | &1&2 | Step R back, touch L heel forward, step L together, touch R next to L | &R 1L &L 2R
R | 1&2& | Vaudeville: cross R over L, step L to side, R heel to diagonal, step R together | 1R &L 2R &R
R | 1&2& | Vaudeville R | 1R &L 2R &R
R | 1-2 | Applejack | 1B 2B
R | 1-2 | R toe fan | 1B 2B
R | 1-2 | Fan R toe out, in | 1B 2B
R | 1-2 | Toe fan right out and in | 1B 2B
R | 1-2 | Heel split | 1B 2B
R | 1-2 | Split heels apart, bring heels together | 1B 2B
R | 1-2 | Swivel heels right, swivel heels to center | 1B 2B
R | 1-4 | Swivel heels R, toes R, heels R, hold | 1B 2B 3B
R | 1-4 | Swivel both heels R, L, R, centre | 1B 2B 3B 4B
R | 1-2 | Twist heels right, left | 1B 2B
R | 1-2 | Swivet right, return to centre | 1B 2B
R | 1&2 | R anchor step | 1R &L 2R
R | 1&2 | Anchor step: rock R behind L, recover L, step R in place | 1R &L 2R
R | 1a2 | Bota fogo R | 1R aL 2R
R | 1a2 | Cross R over L, rock ball of L to L side, recover R | 1R aL 2R
R | 1-2& | NC basic R | 1R 2L &R
R | 1-2& | Nightclub basic right | 1R 2L &R
R | 1-2& | Big step R to side, rock L behind R, recover R | 1R 2L &R
R | 1-2& | R long step to R, L rock back, R cross over L | 1R 2L &R
R | 1a2 | Samba whisk R | 1R aL 2R
R | 1a2 | Cross samba R | 1R aL 2R
R | 1a2 | Volta left: cross R over L, step ball of L to side, cross R over L | 1R aL 2R
R | 1-3 | Sugar foot: touch R toe, touch R heel, cross R over L | 1R 2R 3R
R | 1&2 | R sailor step | 1R &L 2R
R | 1&2 | R sailor 1/4 turn R | 1R &L 2R
R | 1&2 | Sailor 1/2 turn right | 1R &L 2R
R | 1&2 | Right sailor making 1/4 turn right | 1R &L 2R
R | 1&2 | R sailor cross | 1R &L 2R
R | 1&2 | R sailor heel | 1R &L 2R
R | 1&2 | Step R behind L, step L to side, step R to side | 1R &L 2R
R | 1&2 | Sailor step: R behind L, L to L side, R to R side | 1R &L 2R
R | 1&2 | Swing R behind L, step L to L, step R in place | 1R &L 2R
R | 1&2 | R coaster | 1R &L 2R
R | 1&2 | Coaster step back R | 1R &L 2R
R | 1&2 | Right coaster cross | 1R &L 2R
R | 1&2 | R back, L together, R forward | 1R &L 2R
R | 1&2 | Step back on ball of R, step ball of L beside R, step fwd R | 1R &L 2R
R | 1&2 | Shuffle forward right, left, right | 1R &L 2R
R | 1&2 | R shuffle fwd (RLR) | 1R &L 2R
R | 1&2 | Shuffle fwd R-L-R | 1R &L 2R
R | 1&2 | Right shuffle 1/2 turn left | 1R &L 2R
R | 1&2 | Shuffle 1/2 left stepping R, L, R | 1R &L 2R
R | 1&2 | Triple step 1/2 turn left (R, L, R) | 1R &L 2R
R | 1&2 | Triple in place R, L, R | 1R &L 2R
R | 1&2 | Cha cha cha in place R L R | 1R &L 2R
R | 1&2 | Turning 1/2 left shuffle R L R | 1R &L 2R
R | 1&2 | Make 1/4 turn left stepping R to side, L together, 1/4 turn left stepping R back | 1R &L 2R
R | 1&2 | Chasse right | 1R &L 2R
R | 1&2 | Chasse to right: step R to side, close L, step R to side | 1R &L 2R
R | 1&2 | Side shuffle R | 1R &L 2R
R | 1&2 | R side chasse 1/4 turn R | 1R &L 2R
R | 1&2 | Chasse R with 1/4 R | 1R &L 2R
R | 1&2 | Step R to R side, L next to R, turn 1/4 R stepping fwd R | 1R &L 2R
R | 1&2 | Kick ball change R | 1R &R 2L
R | 1&2 | R kick-ball-change | 1R &R 2L
R | 1&2 | Right kick ball cross | 1R &R 2L
R | 1&2 | Kick R, step ball of R, cross L over R | 1R &R 2L
R | 1&2 | Kick R fwd, step R together, step L fwd | 1R &R 2L
R | 1&2 | R kick ball point | 1R &R 2L
R | 1&2 | Kick R & point L | 1R &R 2L
R | 1&2 | Kick R and cross L over R | 1R &R 2L
R | 1&2& | Heel switches R, L | 1R &R 2L &L
R | 1&2 | Heel switches R & L | 1R &R 2L
R | 1&2& | R heel & L heel & | 1R &R 2L &L
R | 1&2& | Touch R heel forward, R together, touch L heel forward, L together | 1R &R 2L &L
R | 1&2 | Point R to side, step R beside L, point L to side | 1R &R 2L
R | 1&2 | Toe switches R, L | 1R &R 2L
R | 1&2& | Side switches R & L & | 1R &R 2L &L
R | 1&2& | Heel & toe: R heel fwd, R together, L toe back, L together | 1R &R 2L &L
R | 1-4 | Rocking chair | 1R 2L 3R 4L
R | 1-4 | R rocking chair fwd, back | 1R 2L 3R 4L
R | 1-4 | Rock fwd R, recover L, rock back R, recover L | 1R 2L 3R 4L
R | 1-4 | Rocking chair: rock forward on right, recover onto left, rock back on right, recover onto left | 1R 2L 3R 4L
R | 1&2 | Cross rock R over L, recover L, step R to side | 1R &L 2R
R | 1-2 | Cross rock R, rec L | 1R 2L
R | 1-3 | Cross rock side R | 1R 2L 3R
R | 1-3 | Scissor step R | 1R 2L 3R
R | 1&2 | R scissors cross | 1R &L 2R
R | 1-4 | Scissor step R, hold | 1R 2L 3R
R | 1&2 | R mambo forward | 1R &L 2R
R | 1&2 | Mambo fwd R | 1R &L 2R
R | 1&2 | Side mambo R | 1R &L 2R
R | 1&2 | Right mambo back | 1R &L 2R
R | 1&2 | Rock R fwd, rec L, R tog | 1R &L 2R
R | 1&2 | Rock forward on R, recover weight to L, step R back | 1R &L 2R
R | 1&2 | Locking shuffle forward R | 1R &L 2R
R | 1&2 | R lock step fwd | 1R &L 2R
R | 1&2 | Step R fwd, lock L behind R, step R fwd | 1R &L 2R
R | 1&2 | R fwd, L lock, R fwd | 1R &L 2R
R | 1-4 | Step R fwd, lock L behind, step R fwd, scuff L | 1R 2L 3R 4L
R | 1-4 | Step lock step scuff R | 1R 2L 3R 4L
R | 1-4 | R step lock step, brush L | 1R 2L 3R 4L
R | 1-2 | R toe strut forward | 1R 2R
R | 1-2 | Touch R toe fwd, drop R heel | 1R 2R
R | 1-2 | Step R toe fwd, snap heel down | 1R 2R
R | 1-4 | Toe struts fwd R, L | 1R 2R 3L 4L
R | 1-4 | Heel struts forward R L | 1R 2R 3L 4L
R | 1-2 | R crossing toe strut | 1R 2R
R | 1-2 | Cross R toe over L, drop heel | 1R 2R
R | 1-2 | Side toe strut right | 1R 2R
R | 1-4 | R side strut, L cross strut | 1R 2R 3L 4L
R | 1-4 | Paddle turn 1/4 left x2 | 1R 2L 3R 4L
R | 1-4 | 2 paddle turns 1/4 L | 1R 2L 3R 4L
R | 1-4 | Step R fwd, pivot 1/4 L, step R fwd, pivot 1/4 L | 1R 2L 3R 4L
R | 1-4 | Step fwd R, pivot 1/4 L (x2) | 1R 2L 3R 4L
R | 1-2 | Step R forward, pivot 1/2 turn L | 1R 2L
R | 1-2 | Step, pivot 1/2 L | 1R 2L
R | 1-2 | Step-pivot 1/2 left | 1R 2L
R | 1-2 | R fwd, 1/2 turn L (weight on L) | 1R 2L
R | 1-2 | Step R fwd, pivot 1/2 turn left (wt L) | 1R 2L
R | 1-2 | Step forward on right foot, pivot half turn to the left transferring weight to left | 1R 2L
R | 1-2 | Step R fwd, turn 1/2 L taking weight on L | 1R 2L
R | 1-4 | Walk around 3/4 left R, L, R, L | 1R 2L 3R 4L
R | 1-4 | Walk a full circle left stepping R, L, R, L | 1R 2L 3R 4L
R | 1&2 | Run forward R, L, R | 1R &L 2R
R | 1&2 | Run R L R | 1R &L 2R
R | 1-2 | Camel walk R, L | 1R 2L
R | 1-2 | Skate R, L | 1R 2L
R | 1-2 | Skate forward right, skate forward left | 1R 2L
R | 1&2 | Pony R | 1R &L 2R
R | 1-2 | Walk fwd R, L | 1R 2L
R | 1-2 | Walk, walk | 1R 2L
R | 1-3 | Walk back R, L, R | 1R 2L 3R
R | 1-4 | Walk forward 3 steps R, L, R, kick L | 1R 2L 3R 4L
R | 1-4 | Walk forward right, left, right, kick left and clap | 1R 2L 3R 4L 4B
R | 1-2 | Step R to side, sweep L from back to front | 1R 2L
R | 1-2 | Cross R over L, sweep L from back to front | 1R 2L
R | 1-2 | Step R to side & drag L to R | 1R 2L
R | 1-2 | Big step R to side, drag L | 1R 2L
R | 1-2 | Large step right to the right, drag left toe to meet right | 1R 2L
R | 1-4 | Hip bumps R, R, L, L | 1R 2R 3L 4L
R | 1-4 | Bump hips R twice, L twice | 1R 2R 3L 4L
R | 1-2 | Step R to side bumping hips R, bump L | 1R 2L
R | 1-4 | Sway R, L, R, L | 1R 2L 3R 4L
R | 1-4 | 4 hip sways R L R L | 1R 2L 3R 4L
R | 1-4 | Hips right, left, right, left | 1R 2L 3R 4L
R | 1-4 | Roll hips in a full circle to the left | 1B
R | 1-2 | Body roll over 2 counts | 1B
R | 1-2 | Pop R knee, pop L knee | 1R 2L
R | 1-2 | Stomp R, stomp L | 1R 2L
R | 1-4 | Stomp R, L, clap, clap | 1R 2L 3B 4B
R | 1-4 | Stomp R twice, clap twice | 1R 2R 3B 4B
R | 1-2 | Stomp R, hold and clap | 1R 2B
R | 1-2 | Stomp R, clap | 1R 2B
R | 1-2 | Step R fwd, hitch L knee and clap | 1R 2L 2B
R | 1-2 | Press R forward, recover L | 1R 2L
R | 1-2 | Press ball of R fwd, recover onto L | 1R 2L
R | 1-2 | Lunge R to side, recover L | 1R 2L
R | 1&2 | Hitch R, step R together, cross L over R | 1R &R 2L
R | 1&2 | R hitch ball cross | 1R &R 2L
R | &1 | Ball cross: step R together, cross L over R | &R 1L
R | &1 | Step ball of R next to L, step L fwd | &R 1L
R | &1 | Ball change R, L | &R 1L
R | &1&2 | Out, out, in, in | &R 1L &R 2L
R | &1&2 | Step R out, step L out, step R in, step L in | &R 1L &R 2L
R | &1 | Jump out R, L | &R 1L
R | 1-2 | Jump feet apart, jump feet together | 1B 2B
R | 1-3 | Waltz basic forward R | 1R 2L 3R
R | 1-3 | R fwd basic | 1R 2L 3R
R | 1-3 | Basic waltz back R | 1R 2L 3R
R | 1-3 | R twinkle | 1R 2L 3R
R | 1-3 | Cross R over L, step L to side, step R in place | 1R 2L 3R
R | 1-3 | Step fwd R, step L next to R, step R in place | 1R 2L 3R
R | 1-3 | Balance right | 1R 2L 3R
R | 1-3 | Step R fwd, point L to side, hold | 1R 2L
R | 1-3 | R fwd, sweep L over 2 counts | 1R 2L
R | 1-3 | Step R to side, drag L over two counts | 1R 2L
R | 1-3 | Step R to R, draw L to R (2 counts) | 1R 2L
R | 1-3 | Step back R, develope L | 1R 2L
R | 1-3 | Rolling vine right | 1R 2L 3R
R | 1-4 | Rolling vine R with a touch | 1R 2L 3R 4L
R | 1-4 | Three step turn R, clap | 1R 2L 3R 4B
R | 1-4 | Full turn right stepping R, L, R, touch L | 1R 2L 3R 4L
R | 1-4 | 1/4 turn R stepping R fwd, 1/2 turn R stepping L back, 1/4 turn R stepping R to side, touch L | 1R 2L 3R 4L
R | 1-2 | Full turn left stepping R, L | 1R 2L
R | 1-2 | Full turn L travelling forward (R, L) | 1R 2L
R | 1-2 | 1/2 turn L stepping R back, 1/2 turn L stepping L fwd | 1R 2L
R | 1-2 | Turn 1/2 L, stepping back on R, turn 1/2 L, stepping fwd on L | 1R 2L
R | 1&2 | Triple full turn left R L R | 1R &L 2R
R | 1-2 | Cross R over L, unwind 1/2 L | 1R 2B
R | 1-2 | Touch R behind L, unwind 1/2 R taking weight on R | 1R 2B
R | 1-2 | Cross R over L and unwind a half turn left | 1R 2B
R | 1-4 | Touch R to side, touch R together, touch R to side, step R together | 1R 2R 3R 4R
R | 1-4 | Touch R forward, side, back, together | 1R 2R 3R 4R
R | 1-4 | R heel, hook, heel, together | 1R 2R 3R 4R
R | 1-4 | R heel fwd, hook R across L, R heel fwd, R together | 1R 2R 3R 4R
R | 1-4 | R heel fwd twice, R toe back twice | 1R 2R 3R 4R
R | 1-4 | Tap R heel fwd 2x, tap R toe back 2x | 1R 2R 3R 4R
R | 1-2 | Touch R toe beside L heel, step R in place | 1R 2R
R | 1-2 | R toe R, R tog | 1R 2R
R | 1-2 | Kick R twice | 1R 2R
R | 1-2 | Kick R x2 | 1R 2R
R | 1-2 | Kick R fwd, kick R to side | 1R 2R
R | 1-2 | Kick R forward, side | 1R 2R
R | 1-4 | Side touch R, side touch L | 1R 2L 3L 4R
R | 1-4 | Step touch R, step touch L | 1R 2L 3L 4R
R | 1-4 | Step R to side, touch L, step L to side, touch R | 1R 2L 3L 4R
R | 1-4 | R side, together, side, touch | 1R 2L 3R 4L
R | 1-4 | Step side R, close L, step side R, touch L | 1R 2L 3R 4L
R | 1-4 | Side R, together L, side R, together L | 1R 2L 3R 4L
R | 1-2 | R flick back, step R | 1R 2R
R | 1-2 | Scuff R, hitch R | 1R 2R
R | 1-2 | Brush R fwd, brush R back | 1R 2R
R | 1-2 | Slap R heel behind with L hand, step R down | 1R 2R
R | 1-2 | Hook R behind L and slap boot with L hand, step R | 1R 1B 2R
R | 1-4 | Right over left, side left, right behind, side left | 1R 2L 3R 4L
R | 1&2 | Behind, side, cross | 1R &L 2R
R | 1&2 | R behind, L side, R cross | 1R &L 2R
R | 1&2 | Behind-side-cross R | 1R &L 2R
R | 1&2 | Cross shuffle R over L | 1R &L 2R
R | 1&2 | Crossing shuffle R L R | 1R &L 2R
R | 1&2 | Cross chasse R | 1R &L 2R
R | 1-2 | Side rock R, recover | 1R 2L
R | 1-2 | Rock R side, recover L | 1R 2L
R | 1-2 | Rock out to R side on R, recover on L | 1R 2L
R | 1-2 | Then rock your right foot out to the side and recover your weight on the left | 1R 2L
R | 1-2 | Rock step R back | 1R 2L
R | 1-2 | Back rock R, recover L | 1R 2L
R | 1-2 | Rock back R, L | 1R 2L
R | 1-2 | R rock back, rec | 1R 2L
R | 1-2 | Step R back, recover weight onto L | 1R 2L
R | 1-4 | Heel R, together, heel L, together | 1R 2R 3L 4L
R | 1-4 | Dig R heel, step R home, dig L heel, step L home | 1R 2R 3L 4L
R | 1-2 | Present R heel diagonally forward, step R beside L | 1R 2R
R | 1-4 | Step R diagonally fwd, touch L beside R & clap, step L diagonally back, touch R beside L & clap | 1R 2L 2B 3L 4R 4B
R | 1-4 | R diag fwd, L touch, L diag back, R touch | 1R 2L 3L 4R
R | 1-4 | Step back R to R diagonal, touch L, step back L to L diagonal, touch R | 1R 2L 3L 4R
R | 1-4 | Swaggering walk forward R, L, R, L | 1R 2L 3R 4L
R | 1-2 | With attitude, walk R, L | 1R 2L
R | 1-2 | Walk R, L like a cowboy | 1R 2L
R | 1-2 | Dramatically step R to side, drag L to R | 1R 2L
R | 1&2 | SHUFFLE FWD: step R fwd, close L, step R fwd | 1R &L 2R
R | 1&2 | SHUFFLE FORWARD Step R fwd, close L to R, step R fwd | 1R &L 2R
R | 1&2 | Step R fwd, close L to R, step R fwd (shuffle) | 1R &L 2R
R | 1&2 | Right shuffle - step R fwd, L together, step R fwd | 1R &L 2R
R | 1&2 | R coaster step (back, together, forward) | 1R &L 2R
R | 1&2 | Coaster: back on R, L together, fwd on R | 1R &L 2R
R | 1-2 | Step R fwd (1), step L fwd (2) | 1R 2L
R | 1-2 | On count 1 step R forward, on count 2 step L forward | 1R 2L
R | 1-2 | Stp R fwd, tch L tog | 1R 2L
R | 1-2 | Step R foward, touch L togther | 1R 2L
R | 1&2 | Right shufle forward | 1R &L 2R
R | 1-4 | Grapvine right, touch L | 1R 2L 3R 4L
R | 1-2 | Step rite forward, touch left | 1R 2L
R | 1-2 | Step R fwd. Touch L beside R. | 1R 2L
R | 1-2 | Right foot forward; left foot touches beside right | 1R 2L
R | 1-2 | Place right heel forward, bring right foot back to place | 1R 2R
R | 1-2 | Bring R foot next to L, bring L foot next to R | 1R 2L
R | 1-2 | Step right on right, touch left beside right | 1R 2L
R | 1-4 | Step to right on R, close L beside R, step to right on R, touch L beside R | 1R 2L 3R 4L
R | 1-2 | Step right to right side, step left behind right | 1R 2L
R | 1-2 | Right to side, left behind | 1R 2L
R | 1-2 | Hold, clap | 2B
R | 1-2 | Hold for 2 counts | 
R | 1-2 | Hold 2 counts | 
R | 1-4 | Step R fwd, hold, step L fwd, hold | 1R 3L
R | 1-4 | Step R, hold for 3 | 1R
R | 1-2 | Step R forward making a 1/4 turn left, step L to left side | 1R 2L
R | 1-2 | 1/4 turn left on R, step L beside R | 1R 2L
R | 1-2 | Turn a 1/4 right as you step R to side, close L | 1R 2L
R | 1-2 | Turning 1/4 left, step R to side, touch L | 1R 2L
R | 1-2 | Step R to side with 1/4 turn R, scuff L | 1R 2L
R | 1-2 | Step R 1/4 turn right, scuff L | 1R 2L
R | 1-2 | Pivot 1/4 left stepping R to side, close L | 1R 2L
R | 1-2 | Step fwd R, spiral full turn L | 1R 2B
R | 1-2 | Step R to R side, bend knees | 1R 2B
R | 1-2 | Slide R to side, touch L | 1R 2L
R | 1-2 | Slide R to R side, slide L next to R | 1R 2L
R | 1&2 | Shuffle to right side R, L, R | 1R &L 2R
R | 1&2 | Shuffle right | 1R &L 2R
R | 1&2 | R shuffle back | 1R &L 2R
R | 1-4 | Step R fwd, lock L behind R, step R fwd, touch L beside R | 1R 2L 3R 4L
R | 1-2 | Cross R in front of L, touch L toe to L side | 1R 2L
R | 1-2 | Cross R over L, point L to L | 1R 2L
R | 1-4 | Cross point R, cross point L | 1R 2L 3L 4R
R | 1-4 | Prissy walks R, L, R, L | 1R 2L 3R 4L
R | 1-2 | Cross walk R, L | 1R 2L
R | 1-2 | Step R over L, step L over R | 1R 2L
R | 1&2& | Rock R fwd & recover L, rock R back & recover L | 1R &L 2R &L
R | 1-2& | Rock R fwd, recover L, step R beside L | 1R 2L &R
R | 1-2& | Rock fwd R, recover L, & step R tog | 1R 2L &R
R | 1&2 | Step R fwd, pivot 1/2 L, step R fwd | 1R &L 2R
R | 1&2 | Chase turn 1/2 left R | 1R &L 2R
R | 1&2 | Step-pivot-step 1/2 L | 1R &L 2R
R | 1&2 | R fwd, 1/2 turn L, R fwd | 1R &L 2R
R | 1-8 | Figure of eight vine right | 1R 2L 3R 4L 5R 6L 7R 8L
R | 1&2 | Kick R fwd, step R out, step L out | 1R &R 2L
R | 1&2 | Kick, out, out | 1R &R 2L
R | 1-2 | R heel fwd, R toe back | 1R 2R
R | 1-2 | Touch R heel forward, touch R toe back | 1R 2R
R | 1-4 | Step R fwd, kick L fwd, step L back, touch R back | 1R 2L 3L 4R
R | 1-2 | R ft fwd, L ft fwd | 1R 2L
R | 1-4 | Walk forward on the right, left, right, then kick the left foot forward | 1R 2L 3R 4L
R | 1-4 | Step to the right with your right foot, close left to right, step right again, and touch left | 1R 2L 3R 4L
R | 1-2 | Step fwd with R, touch L toe behind R | 1R 2L
R | 1-2 | You step forward on your right foot and then forward on your left foot | 1R 2L
R | 1-2 | Right toe touches to right side, then steps beside left | 1R 2R
R | 1-2 | Point right toe out to side, bring it back to centre | 1R 2R
R | 1-2 | Point R toe to R, step R next to L | 1R 2R
R | 1&2 | Cha cha fwd R L R | 1R &L 2R
R | 1&2 | Forward cha cha R | 1R &L 2R
R | 1&2 | Cross triple R over L | 1R &L 2R
R | 1&2 | Step R to R, step L beside R, step R to R turning 1/4 R | 1R &L 2R
R | 1&2 | Step R slightly back, step L beside R, step R slightly fwd | 1R &L 2R
R | 1&2 | R back lock step | 1R &L 2R
R | 1&2 | Step back R, lock L across R, step back R | 1R &L 2R
R | 1&2 | R bk, L lock over, R bk | 1R &L 2R
R | 1-2 | Rock forward on right foot, recover weight on to left foot | 1R 2L
R | 1-2 | Right rock forward, replace | 1R 2L
R | 1-2 | R Fwd Rock, Rec | 1R 2L
R | 1-2 | Rock R over L, rec L | 1R 2L
R | 1-2 | Rock R behind L, replace wt to L | 1R 2L
R | 1-4 | Step R fwd, point L to L, step L fwd, point R to R | 1R 2L 3L 4R
R | 1-4 | Step R across L, point L side, step L across R, point R side | 1R 2L 3L 4R
R | 1-4 | R over, point L, L over, point R | 1R 2L 3L 4R
R | 1-2 | Turn 1/2 right stepping forward on right, step left forward | 1R 2L
R | 1-2 | Make 1/4 turn right step right forward, hold | 1R
R | 1-2 | 1/4 R, R fwd; 1/4 R, L side | 1R 2L
R | 1-2 | ¼ turn R stepping fwd R, ½ turn R stepping back L | 1R 2L
R | 1-2 | 1/4 turn right & step fwd on right, 1/2 turn right & step back on left | 1R 2L
R | 1-2 | Turn 1/4 R and step R fwd, turn 1/2 R and step L back | 1R 2L
R | 1-2 | R fwd w/ 1/4 R, L fwd | 1R 2L
R | 1-2 | Step fwd R, pivot 1/2 L onto L | 1R 2L
R | 1-2 | Step R forward, pivot left 1/2 | 1R 2L
R | 1-2 | Step R forward; 180 degree turn left | 1R 2L
R | 1-2 | Step R fwd, half turn over left shoulder | 1R 2L
R | 1-2 | Step R forward, pivot 1/2 turn left stepping onto L | 1R 2L
R | 1-2 | Step R forward, pivot 1/2 L ending with weight on L | 1R 2L
R | 1-2 | Step R forward, pivot 1/2 L (weight ends L) | 1R 2L
R | 1-2 | Step R fwd, pivot 1/2 turn counterclockwise | 1R 2L
R | 1-2 | Step, turn 1/2 L | 1R 2L
R | 1-2 | Step half turn left | 1R 2L
R | 1-4 | Step 1/2 pivot L, step 1/4 pivot L | 1R 2L 3R 4L
R | 1-4 | R step fwd, pivot 1/2 L, walk R, walk L | 1R 2L 3R 4L
R | 1-4 | Right step pivot ½ left, right step pivot ¼ left | 1R 2L 3R 4L
R | 1-2 | Kick R across L, kick R to R side | 1R 2R
R | 1-2 | Flick R behind L, step R to R | 1R 2R
R | 1-2 | Hitch R across L, step R to side | 1R 2R
R | 1-2 | Sweep R around, step R behind L | 1R 2R
R | 1-2 | Sweep R from front to back, cross R behind L | 1R 2R
R | 1-2 | Ronde R from front to back, R behind | 1R 2R
R | 1-2 | Cross R over L & hold | 1R
R | 1-2 | Step R forward popping L knee, hold | 1R 1L
R | 1-2 | Step back R, hook L across R shin | 1R 2L
R | 1-2 | R back, L hook over R | 1R 2L
R | 1-2 | Step R back and hitch L, step L down | 1R 1L 2L
R | 1-2 | Step R back, L heel fwd | 1R 2L
R | 1-2 | R heel fwd, replace | 1R 2R
R | 1-2 | R heel forward, R home | 1R 2R
R | 1-2 | Right heel, together | 1R 2R
R | 1-2 | Right toe back, step right beside left | 1R 2R
R | 1-2 | Tap R toe behind L, step R back | 1R 2R
R | 1-4 | Touch R heel fwd, touch R toe beside L, touch R heel fwd, step R beside L | 1R 2R 3R 4R
R | 1-4 | R heel, tog, L heel, tog | 1R 2R 3L 4L
R | 1&2& | R heel & L toe & | 1R &R 2L &L
R | &1 | Step back on R, touch L heel fwd | &R 1L
R | 1-2 | Stomp right foot twice | 1R 2R
R | 1-2 | Stomp up R twice | 1R 2R
R | 1-2 | Stomp R (weight), stomp L (weight) | 1R 2L
R | 1-2 | Stomp R fwd, stomp L beside R (wt on L) | 1R 2L
R | 1-4 | Stomp, clap, stomp, clap | 1R 2B 3L 4B
R | 1&2 | Stomp R, L, R | 1R &L 2R
R | 1&2 | Clap clap clap | 1B &B 2B
R | 1-2 | Touch R side & clap, step R together | 1R 1B 2R
R | 1-4 | Swivel heels right, toes right, heels right, clap | 1B 2B 3B 4B
R | 1-4 | Swivel both heels to the left, to the right, to the left, center | 1B 2B 3B 4B
R | 1-2 | Heels out, heels in | 1B 2B
R | 1-2 | Heel splits out, in | 1B 2B
R | 1&2& | Swivel heels R L R L | 1B &B 2B &B
R | 1-2 | Bounce heels twice | 1B 2B
R | 1-4 | Hip roll counterclockwise for four counts | 1B
R | 1-2 | Circle hips CCW (weight ends on L) | 1B
R | 1-2 | Bump hips R, L | 1R 2L
R | 1&2 | Bump hips R L R | 1R &L 2R
R | 1-2 | Sway R, sway L | 1R 2L
R | 1-2 | Step R to R side swaying hips R, sway hips L | 1R 2L
R | 1-2 | Sway to the right, sway to the left | 1R 2L
R | 1-4 | Sway hips R for 2 counts, L for 2 counts | 1R 3L
R | 1-3 | Step R to R, drag L toe to R for 2 counts | 1R 2L
R | 1-3 | Big step R, drag L, touch L | 1R 2L 3L
R | 1-3 | Waltz fwd R, L, R | 1R 2L 3R
R | 1-3 | R fwd, L beside, R in place | 1R 2L 3R
R | 1-3 | Right twinkle: cross right over left, left to left side, replace weight to right | 1R 2L 3R
R | 1-3 | R fwd basic turning 1/2 R | 1R 2L 3R
R | 1-3 | Step R fwd turning 1/4 R, step L beside R, step R in place | 1R 2L 3R
R | 1-3 | Step R fwd, 1/2 turn R stepping L back, step R back | 1R 2L 3R
R | 1-3 | Step R across L, sweep L to front over 2 counts | 1R 2L
R | 1-3 | R over L, L to L, R behind L | 1R 2L 3R
R | 1-3 | Step R fwd, kick L fwd, hold | 1R 2L
R | 1-3 | Rock R to R, recover L, cross R over L | 1R 2L 3R
R | 1-6 | R basic fwd, L basic back | 1R 2L 3R 4L 5R 6L
R | 1-6 | Waltz box | 1R 2L 3R 4L 5R 6L
R | 1-2& | R to side, rock L back, recover R | 1R 2L &R
R | 1-2& | Step R to side, close L behind R, cross R over L | 1R 2L &R
R | 1-2&3 | Step R to side dragging L, rock back L, recover R, step L to side | 1R 1L 2L &R 3L
R | 1&2&3&4 | Syncopated weave R: step R to side, cross L behind, step R to side, cross L over, step R to side, cross L behind, step R to side | 1R &L 2R &L 3R &L 4R
R | 1&2& | R side, L behind, R side, L cross | 1R &L 2R &L
R | 1-2&3-4 | Side R, behind L, & side R, cross L, side R | 1R 2L &R 3L 4R
R | &1-2 | R together, L fwd, hold | &R 1L
R | &1&2 | R back, L heel, L home, R touch | &R 1L &L 2R
R | &1-2 | Jump out R, L, clap | &R 1L 2B
R | &1&2 | Step R out to R, step L out to L, step R in to centre, step L next to R | &R 1L &R 2L
R | 1-2 | Walk fwd R-L | 1R 2L
R | 1-2 | Walk R/L | 1R 2L
R | 1-2 | Walk R+L | 1R 2L
R | 1-2 | 2 walks fwd (R, L) | 1R 2L
R | 1-4 | 4 walks fwd R L R L | 1R 2L 3R 4L
R | 1-4 | Walk back 4 (R,L,R,L) | 1R 2L 3R 4L
R | 1-4 | Four steps forward right left right left | 1R 2L 3R 4L
R | 1-4 | Run fwd R, L, R, kick L | 1R 2L 3R 4L
R | 1-4 | Strut R, strut L | 1R 2R 3L 4L
R | 1-4 | R side strut, L crossing strut | 1R 2R 3L 4L
R | 1-8 | R toe strut, L toe strut, rocking chair | 1R 2R 3L 4L 5R 6L 7R 8L
R | 1-2 | Skate R, skate L | 1R 2L
R | 1&2 | Skate shuffle R: step R to R diagonal, L together, step R fwd | 1R &L 2R
R | 1-2 | Lunge forward R, recover L | 1R 2L
R | 1-2 | Step fwd on R, touch L beside and click fingers | 1R 2L 2B
R | 1-2 | Step R, snap | 1R 2B
R | 1-2 | Step R to side & look R, recover L | 1R 1B 2L
R | 1&2& | Touch R to side turning 1/8 L, hitch R, touch R to side turning 1/8 L, hitch R | 1R &R 2R &R
R | 1-2 | Monterey 1/4 R: point R, turn 1/4 R stepping R together | 1R 2R
R | 1-4 | R Monterey ½ R | 1R 2R 3L 4L
R | 1-4 | Point R, ½ R closing R, point L, close L | 1R 2R 3L 4L
R | 1-4 | Point R to R, 1/2 R stepping R tog, point L to L, L tog | 1R 2R 3L 4L
R | 1-4 | 1/4 R jazz box | 1R 2L 3R 4L
R | 1-4 | R jazz box: R over L, L back, R to R, L fwd | 1R 2L 3R 4L
R | 1-4 | Cross R over L, step back L turning 1/4 R, step R to R, cross L over R | 1R 2L 3R 4L
R | 1-4 | Cross, back, 1/4 R, step | 1R 2L 3R 4L
R | 1-3 | Cross, back, side | 1R 2L 3R
R | 1-4 | Side, behind, side, touch | 1R 2L 3R 4L
R | 1-4 | Side behind side touch R | 1R 2L 3R 4L
R | 1-4 | Step side, behind, 1/4 R fwd, brush L | 1R 2L 3R 4L
R | 1-4 | Rolling grapevine R, touch L and clap | 1R 2L 3R 4L 4B
R | 1-8 | Vine right touch, vine left touch | 1R 2L 3R 4L 5L 6R 7L 8R
R | 1-8 | Vine R & touch L, vine L & touch R | 1R 2L 3R 4L 5L 6R 7L 8R
R | 1-8 | Grapevine right, grapevine left | 1R 2L 3R 4L 5L 6R 7L 8R
R | 1-2 | Cross R behind L, point L to L | 1R 2L
R | 1-2 | Cross step R, point L | 1R 2L
R | 1-2 | Cross R slightly over L, step L slightly back | 1R 2L
R | 1-2 | R side, L drag | 1R 2L
R | 1-2 | Side R, drag L together | 1R 2L
R | 1-2 | Take a big step to R on R, slide L to R | 1R 2L
R | 1-2 | Take a large step to the right, touch left beside right | 1R 2L
R | 1-2 | Long step R diag fwd, slide L tog | 1R 2L
R | 1-2 | Big step back R, drag L heel | 1R 2L
"""

# What can't be danced as it is told, or says two things: the free foot before it, the counts, the words, what is found.
FAULTY = """
R | 1-2 | Step L back... 
R | 1-2 | Step L fwd, step R fwd
R | 1-2 | Step R fwd, pivot 1/2 right
R | 1-2 | Step R to left side, touch L
R | 1-2 | Walk R, R
R | 1-2 | R lock behind L
R | 1-2 | Step L over R
R | 1&2 | Left shuffle fwd
R | 1&2 | R shuffle fwd (L, R, L)
R | 1-2 | Cross R over L, unwind 1/2 R
R | 1-2 | Step R forward, pivot 1/4 right
R | 1-2 | Step R fwd, step R beside L
R | 1-3 | Walk R, L
R | 1-2 | Touch R heel fwd, step L fwd
"""
