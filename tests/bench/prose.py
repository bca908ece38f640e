"""What a radio or a visitor may say while the caller listens: written for this bench.

And short texts by others, from Debian's package fortunes, where it is installed.
"""

import re
from pathlib import Path

STORY = """
The rain had stopped before the boat came in, and the harbour smelled of tar and wet rope. Nobody
on the quay was in a hurry. Two boys counted the crates as they were lifted out, and lost their
place, and began again at one. Their grandmother sat on an upturned bucket with a bag of wool in
her lap. She had finished the first of two mittens and could not find the other. It must have gone
into the water, she said, along with my good scissors. The older boy looked over the edge. There
was nothing down there but a flat grey sheet, and a gull that turned its head to watch him.
When the mail was sorted they walked home the long way, around the point and past the lighthouse.
The keeper had painted half of the door green and then run out of paint. He waved with the brush.
Next summer he would paint the rest, or the summer after. At the top of the hill the wind was
strong enough to lean on. The younger boy leaned on it and fell over, and laughed until he had the
hiccups. Back in the kitchen there was soup with barley, and bread that had risen more on the left
than on the right. Their grandmother measured flour for the morning without looking: she had made
the same loaf for sixty years. What is it like to be old, the younger one asked. It is like being
eight, she said, but with a worse knee. After supper she took out the needles again. The wool was
the colour of a wet slate roof. She set the lamp closer, counted under her breath, and frowned.
Somewhere between the harbour and the kitchen she had lost a stitch, and she meant to have it back.
The clock on the shelf had not been right since the winter, and no one had thought of mending it.
It struck eleven when the moon was still low over the barn. That's not the time, said the older
boy. It is the time in some other place, said his grandmother, and somebody there is going to bed.
In the night the wind went round to the south, and the boats knocked against the wall. By morning
the water was so clear that you could see the mitten lying on the sand, one finger pointing at the
shore. They tried to reach it with a rake, and then with two rakes tied together. The ferryman had
a net on a pole, which was too short by about the length of a hand. In the end they left it there.
All through the autumn they went to look at it. It grew a thin green fur, and a small crab moved in.
The grandmother said that she had never made a better house, and that she had certainly never made
one that was so well liked by the person who lived in it. When the first ice came it was gone.
"""

TALK = """
Did you lock the back door? I think so. You always think so. Well, go and look then.
It is open. I knew it. Who was the last one in? You were, with the shopping.
What are we having tonight? There is some rice left. Not again. We had that yesterday.
How many eggs do we need? Three, or four if they are small. I have two. Then we will have pancakes.
Wait, is that your phone? No, it is the oven. The bread is done. Turn it down a little.
Could you pass me the salt? Here. Thank you. Is it too hot for you? It is fine.
When does the train leave? Ten past six. And the one after that? Half past seven, I suppose.
We will never make it. Yes we will, if you stop talking. Right. Where are my keys?
On the hook, where they always are. They are not there. Then look in the other coat.
My sister called. What did she want? She wants to come on Sunday with the children.
All of them? All five. The baby as well. That makes nine of us. We need more chairs.
I could ask next door. They have that long bench. Good idea. Ask them tomorrow.
How tall is he now? Up to here. He is only eleven. He will be taller than you by Christmas.
Have you seen this film before? Once, years ago. Don't tell me how it ends.
It is about a man who wakes up on the wrong ship. I said don't tell me. That is just the beginning.
Can you hear that noise? What noise? It is like something dripping. It stopped. No, there it is.
It is the tap in the bathroom. I was going to mend it. When? One of these days.
Give me your hand. It is freezing. Put on some gloves. They have a hole in them.
Two tickets, please. For which day? Saturday, in the evening. We have some on the side.
How much are they? Twelve each. And at the back? Eight. We will take the ones at the back.
Let me see that. Not now. It is mine. You can have it when you are done with the homework.
I am done. You have not even started. I did the first page. There are six pages.
Twenty minutes, then we stop. Fine. And no music. A little music. All right, but quietly.
Is it going to rain? It said so on the radio. They were wrong last week. So they were.
I will take the big umbrella. The big one is broken. Then the small one. It has no handle.
Come on, we are late. Help me with this zip. It is stuck. Pull it up. I am pulling it up.
Leave it open then. I will be cold. You will be warm enough once we walk.
"""


def segments(text: str) -> list[str]:
    """The text cut where a reader pauses, as a detector of pauses would cut it."""
    joined = " ".join(text.split())
    for mark in ".?!":
        joined = joined.replace(mark, mark + "|")
    return [piece.strip() for piece in joined.split("|") if piece.strip()]


_FORTUNES = Path("/usr/share/games/fortunes")
LEARNT_TITLES = (
    "wisdom",
    "work",
    "cookie",
    "humorists",
    "love",
    "news",
    "pets",
    "food",
    "fortunes",
    "literature",
)
"""What the net learnt from (`voice.recognisers.net.learning`)."""
HELD_OUT_TITLES = ("men-women", "people", "education", "medicine", "law", "kids")


def sentences(titles: tuple[str, ...]) -> list[str]:
    """Sentences from those of the short texts that have only letters; nothing if not installed."""
    files = [_FORTUNES / title for title in titles]
    text = "\n%\n".join(file.read_text("utf-8", "ignore") for file in files if file.exists())
    lines = (re.sub(r"\s+", " ", part) for part in text.split("\n%\n"))
    found = (s for line in lines for s in re.findall(r"[A-Z][a-z' ,]{12,70}[.?!]", line))
    return [*dict.fromkeys(found)]


TUNING_TEXT = """
In the old mill there lived a miller who could not sleep for the silence. The wheel had broken in
the spring, and with it went the noise that he had heard since he was born. He bought a clock. He
bought a dog. He asked his brother to come and snore. Nothing was as good as the wheel. So on the
first day of the hay harvest he borrowed a saw and four tall larches, and set to work. It took him
until the snow came. On the evening when the water first ran over the new boards, he lay down in
his boots and slept for two days, and the dog lay down beside him and did not hear a thing.
Who is at the door? Only the post. Is there anything for me? A bill and a card. Read it to me.
It is from the coast. They have had nothing but fog. Poor things. Shall we write back?
Later. Sit down for a minute. I have to feed the hens first. They can wait. No, they can't.
What time is it? Nearly five. Then I have missed it. Missed what? The programme about bees.
Was it good? How should I know? I missed it. Never mind. They will show it again next week.
Are you cold? A bit. Take my scarf then. What about you? I am fine. Let's go this way.
One more cup of tea? Half a cup. Sugar? Two. Since when do you take two? Since this morning.
Put that down. Why? It belongs to your uncle. He said that I could. Did he? Yes he did. All right.
Where did you put the ladder? Behind the shed. It isn't there. Then ask Ida, she had it last.
I can't reach the top shelf. Use a chair. It wobbles. Hold on, I will do it. Which jar? The blue
one.
Is that enough? A little more. Stop, stop. Now it is running over. Get a cloth. Not that one.
We are out of milk again. I will go. Take the bread money. How much is left? Six or seven, I think.
Open the window, it smells of paint. It is open. Then open the other one. It has been stuck for
years.
Count the plates. Eleven. There should be twelve. One broke on Monday. Who broke it? Guess.
Would you like to sit by the fire? No thanks, I am too warm. Leave it, it will burn down by itself.
Has the vet been? He comes at three. And the calf? Still lying down. Did it drink? Half a bucket.
That's the third time this week. I know. Somebody should tell him. You tell him. Why always me?
Say when. When. You said that too late. So I did. Cheers. To your new roof. May it keep the rain
out.
Turn left at the church. There is no church. There was one. Go back, we have come too far. Right
here?
What are you reading? A letter. Who from? Nobody you know. Then why are you laughing? Read on.
My feet hurt. We are nearly there. You said that an hour ago. One more hill. And then? Then it is
flat.
Can the boys come in? When they have washed. All of them? Both of them. And the dog? The dog as
well.
Good morning. Is it still snowing? It has stopped. How deep is it? Up to the second step. Goodness.
Pass the butter. Please. Please pass the butter. Here. And the jam. Which? Plum. There is only
cherry.
They want eighty for it. That is too much. I offered fifty. And? They will think about it until
Friday.
Wait for me. I have to find the other boot. Under the bench. No. By the stove then. Got it. Let's
go.
Whose turn is it? Mine. It was yours before. Then it is yours. I pass. You can't pass twice. Says
who?
That will do for today. Wash the brushes. They are clean. Look again. Fine, I will do them over.
"""
