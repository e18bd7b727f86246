// The shapes for heights 3 and 5, 5 pixels high, as they look.

package digits

// sheet5 holds rows of shapes: a line of names, each above the left edge of
// its shape, then 5 lines of pixels. The space is named "_".
const sheet5 = `
0    1    2    3    4    5    6    7    8    9
###  .#.  ###  ###  #.#  ###  ###  ###  ###  ###
#.#  ##.  ..#  ..#  #.#  #..  #..  ..#  #.#  #.#
#.#  .#.  ###  ###  ###  ###  ###  ..#  ###  ###
#.#  .#.  #..  ..#  ..#  ..#  #.#  ..#  #.#  ..#
###  ###  ###  ###  ..#  ###  ###  ..#  ###  ###

.  ,   :  +    -    ±    %    /    ?    °   _
.  ..  .  ...  ...  .#.  #.#  ..#  ###  ##  ..
.  ..  #  .#.  ...  ###  ..#  ..#  ..#  ##  ..
.  ..  .  ###  ###  .#.  .#.  .#.  .##  ..  ..
.  .#  #  .#.  ...  ...  #..  #..  ...  ..  ..
#  #.  .  ...  ...  ###  #.#  #..  .#.  ..  ..

m      l  L    g    C    F    q    t    o    z
.....  #  #..  ...  ###  ###  ...  .#.  ...  ....
.....  #  #..  ###  #..  #..  ###  ###  ...  ####
#####  #  #..  #.#  #..  ##.  #.#  .#.  ###  ..#.
#.#.#  #  #..  .##  #..  #..  ###  .#.  #.#  .#..
#.#.#  #  ###  ##.  ###  #..  ..#  .##  ###  ####

f    k    h    i  n
.##  #..  #..  #  ...
.#.  #.#  #..  .  ...
###  ##.  ###  #  ###
.#.  #.#  #.#  #  #.#
.#.  #.#  #.#  #  #.#
`

// shape5 is the shape of a character; nil where there is none.
func shape5(r rune) shape { return cut(sheet5, 5, r) }
