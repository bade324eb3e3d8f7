## A photograph of the label (data plate), sent by the home.

plate-title = A photo of the label
plate-help = Can't make out the date? Take a photo of the label on the heater, near enough to read its print, and a volunteer reads it for you. You need not open or touch anything. Stay back if water is hot or running. Smell gas? { -gas-out }
plate-kept = We keep a smaller copy. Where and when the photo was taken is removed. Only you and the volunteers see it.
plate-pick = Photo (JPEG, PNG or WebP, up to 10 MB)
plate-send = Send this photo
plate-sent = The photo is there. A volunteer will read it.
plate-alt = Photo of the label on this home's heater, sent { $day }
plate-state-waiting = Sent { $day }. Nobody has read it yet.
plate-state-read = Sent { $day }. A volunteer has read it: see above what it says.
plate-state-unreadable = Sent { $day }. It could not be read. Please send one from nearer, with more light.
plate-remove = Delete this photo
plate-too-large = This photo is too large: more than 10 MB, or more than 80 million dots. Set the camera to a smaller size, or take a screenshot of the photo and send that.
plate-not-a-photo = This file is not a photo that can be opened. Send a JPEG, PNG or WebP picture.
plate-too-small = This picture is too small to read a label: less than 200 dots on a side. Send the photo itself, not its thumbnail.
plate-enough = There are three photos of this home already. Delete one first.
