"""Words and figures: what was said becomes a reading, a place, a mark or a command; what is known becomes words.

This room knows nothing of sound. It takes the words that a recogniser heard, or that somebody typed, and gives words
for a voice to say. It guesses nothing: where words leave a doubt, the doubt is part of the answer.
"""
