/**
 * The contract of entries, one line for each shape of a value; made from the types of the shop by
 * `python -m webapp.shoplog.rules.document`, and read by contract.js.
 */
export const TABLE = String.raw`like ^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$
whole 1 10000000
null
either 0 2
one as_found, fit_up, as_left, recheck
either 4 2
object 16384
text 0 4000
either 7 2
like ^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$
text 1 64
open id 0 phone 0 local_no 1 vehicle 3 job 3 round 5 body 6 typed 8 made_at 9 build 10
never
text 2 120
one in, mm
above 0 100
one left, right
one hub, rotor, knuckle, tire
one square_to_rail, plumb_bob
one front, rear
either 16 2
number -20000 20000
either 21 2
one one_end, both_ends, fixed
either 23 2
either 15 2
number 0 100
either 26 2
number 0 20000
list 28 2 2
either 28 29
either 30 2
only kind? 24 pitch? 25 step? 27 thread_left? 31
either 32 2
open frame_end? 20 length? 22 frame_height? 22 axle_height? 22 fore_aft? 22
 frame_end_from_center? 22 bump? 22 droop? 22 axle_tube_height? 22 rail_height? 22 adjuster? 33
names 19 34
one forward, rearward
either 36 2
open frame_end? 20 length? 22 frame_height? 22 axle_height? 22 fore_aft? 22 arm? 22 arm_points?
 37 ratio? 25 adjuster? 33
names 19 38
above 0 20000
either 40 2
list 19 0 Infinity
boolean
open sum 21 u 28
names 17 44
names 19 45
text 1 60
either 28 2
text 1 200
either 49 2
open maker_limit? 48 maker_source? 50 house_limit? 48 joint? 47
names 47 51
names 19 52
either 47 2
one nut, bolt
either 55 2
one dry, oiled, locking compound, new fastener
either 57 2
above 0 720
either 59 2
either 43 2
open fastener 47 value? 41 figure? 54 also? 41 also_figure? 54 tolerance? 48 source? 50 end? 56
 thread? 58 then_angle? 60 tool? 54 rubber? 43 on_springs? 43 moved? 61
list 62 0 Infinity
names 19 63
one km, mi
either 65 2
day ^2\d{3}-\d\d-\d\d$
either 67 2
only distance? 41 unit? 66 date? 68
either 69 2
names 19 70
only left 28 right 28
names 19 72
names 19 21
one final_welding, road
text 1 40
text 1 1000
whole 1 9007199254740992
either 78 2
text 1 400
list 80 0 Infinity
open hold_point 75 step 76 says 77 unseen 43 passed 43 since? 79 about 81
list 82 0 Infinity
names 19 83
one this_job, pending, accepted
list 28 0 Infinity
only left 86 right 86 read_to? 25 known_lean? 22
either 87 2
only offset 21 expanded 28 length_change 21 changed 43 round 4 of 85 heights? 88
either 89 2
text 0 40
list 91 0 Infinity
open before 90 changes 92
names 19 93
one track_bar.frame_height, track_bar.axle_height, drag_link.frame_height, drag_link.axle_height
list 95 0 Infinity
names 19 96
like ^[0-9A-Z]{4}-[0-9A-Z]{4}$
either 98 2
open by? 99
names 98 100
open replaces? 3 id? 12 tags? 12 confirmed? 12 unaccepted? 12 from_job? 3 name? 13 note? 7
 units? 14 read_to? 15 driving_side? 16 face? 17 method? 18 track_bars? 35 drag_links? 39
 rail_width? 41 track? 41 axles? 42 retired? 43 known_sums? 46 joint_limits? 53 torques? 64
 rechecks? 71 remeasure? 71 ride_heights? 73 known_leans? 74 left_open? 84 last_rounds? 94
 links_older? 97 replaced_tags? 101 merged_into? 0
open replaces? 3 code 98 first? 43
one offset, repeat, face_u, lean, bolt_clearance, clearance, bump_steer
open name 104 value 40 reason 77 from? 67 replaces? 3
text 0 120
one centering, whole, recheck
either 107 2
open replaces? 3 axle 19 round 4 about 106 scope? 108 second_of? 3
open replaces? 3 step 76 field 76
one level, tires, load, settled, straight, bar_fitted, swung
open replaces? 3 field 111 value 43 as_last? 43
text 1 4000
open replaces? 3 text 113
open replaces? 3 target 0 reason 77
list 77 0 Infinity
text 0 1000
either 117 2
open replaces? 3 missing 116 reason 118
one accepted, sent_back
open replaces? 3 hand_in 0 verdict 120 reason 118 step? 76 own_reason? 118 before? 3 keeps? 43
open replaces? 3 hold_point 75 reason 77 open? 116
open replaces? 3 axle 19 says 77 reason 77
one implausible, differs_from_file, sum_differs, one_side_differs, wrong_side,
 moved_unexplained, height_changed, leans, links_older
open replaces? 3 code 124 key 49 says 77
one bar_turned, link_turned, bar_replaced, bracket_moved, pitman_changed, hole_repaired,
 part_replaced, link_replaced, springs_changed, wheels_changed, toe_set, arm_moved, part_removed
number -2000 2000
either 127 2
one up, down, left, right, forward, rearward
either 129 2
either 106 2
open replaces? 3 what? 126 turns? 22 length_change? 128 moved? 128 toward? 130 part? 131 text?
 118
like ^[0-9a-f]{64}$
whole 1 1600
whole 1 3145728
open replaces? 3 sha256 133 of 47 width 134 height 134 bytes 135 text? 118
open replaces? 3 name 47 axle_end_up? 127 frame_end_down? 127 pitman_down? 127 link_axle_end_up?
 127 height_change? 127
open replaces? 3 step 76 field 16 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, frame_end_from_center, bump, droop,
 axle_tube_height, rail_height
open replaces? 3 step 76 field 139 value 21 unit 14 read_to 15 face? 17 method? 18
one length, frame_height, axle_height, fore_aft, arm, toe_front, toe_rear, toe_span,
 wheelbase_left, wheelbase_right, wheelbase_track
open replaces? 3 step 76 field 141 value 21 unit 14 read_to 15 face? 17 method? 18
one along, bolt, hole_long, hole_short, sleeve, edge
one track_bar, drag_link, steering
either 29 2
open replaces? 3 step 76 field 143 joint 47 of 144 value 28 unit 14 read_to 15 how? 50 pair? 145
one gap
list 47 2 2
one ride, full_bump, full_droop, crossed
one left, straight, right
one touches, witness mark
either 151 2
open replaces? 3 step 76 field 147 between 148 state 149 lock 150 value? 48 mark? 152 unit? 14
 read_to? 15
one fastener
open fastener 47 value? 41 figure? 54 also? 41 also_figure? 54 tolerance? 48 source? 50 end? 56
 thread? 58 then_angle? 60 tool? 54 rubber? 43 on_springs? 43 moved? 61 replaces? 3 step 76
 field 154
one on_wheels, on_stands_loaded, hanging
open step 76 field 76 value 156 as_last? 43 replaces? 3
open step 76 field 76 value 17 as_last? 43 replaces? 3
open step 76 field 76 value 18 as_last? 43 replaces? 3
open step 76 field 76 value 22 as_last? 43 replaces? 3
open step 76 field 76 value 48 as_last? 43 replaces? 3
number 0 45
either 162 2
open step 76 field 76 value 163 as_last? 43 replaces? 3
open step 76 field 76 value 20 as_last? 43 replaces? 3
open step 76 field 76 value 16 as_last? 43 replaces? 3
open step 76 field 76 value 32 as_last? 43 replaces? 3
open step 76 field 76 value 43 as_last? 43 replaces? 3
open step 76 field 76 value 36 as_last? 43 replaces? 3
open step 76 field 76 value 15 as_last? 43 replaces? 3
number -1080 1080
list 171 0 Infinity
either 171 172
open step 76 field 76 value 173 as_last? 43 replaces? 3
open maker_limit? 48 maker_source? 50 house_limit? 48 joint 47
open step 76 field 76 value 175 as_last? 43 replaces? 3
one sleeve_in_rubber, sleeve_narrow, bolt_in_sleeve, bolt_in_hole, bracket, thread_in_hole
either 177 2
open joint 47 what? 178
open step 76 field 76 value 179 as_last? 43 replaces? 3
open between 148 apart 43
open step 76 field 76 value 181 as_last? 43 replaces? 3
open step 76 field 76 value 69 as_last? 43 replaces? 3
is entry 11
is vehicle 102
is tag 103
is limit 105
is job 109
is reading 110
is tick 112
is pick 110
is note 114
is strike 115
is hand_in 119
is decision 121
is pass_over 122
is close_item 123
is confirm 125
is change 132
is photo 136
is plan 137
is reading.heights 138
is reading.centering 138
is reading.track_bar 140
is reading.drag_link 142
is reading.play 146
is reading.clearance 153
is reading.torque 155
is pick.heights.standing 157
is pick.centering.face 158
is pick.centering.method 159
is pick.centering.left_extra 160
is pick.centering.right_extra 160
is pick.centering.rail_point_height 161
is pick.centering.face_point_height 161
is pick.centering.tilt_deg 164
is pick.centering.high_side 165
is pick.track_bar.frame_end 166
is pick.track_bar.adjuster 167
is pick.track_bar.carried 168
is pick.drag_link.frame_end 166
is pick.drag_link.arm_points 169
is pick.drag_link.adjuster 167
is pick.drag_link.ratio 170
is pick.drag_link.carried 168
is pick.drag_link.wheel_deg 174
is pick.play.limit 176
is pick.play.loose 180
is pick.clearance.apart 182
is pick.torque.recheck 183
`;
